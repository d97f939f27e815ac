/* Balance, from the answer to the record: what the search left in its trial becomes the fields that
 * people read, or the outcome and fault of a search without an answer. Internal. */
#ifndef CT_PLANT_BALANCE_RECORD_H
#define CT_PLANT_BALANCE_RECORD_H

#include "part/coil.h"
#include "part/compressor.h"
#include "part/condenser.h"
#include "plant/balance_answer.h"
#include "plant/plant.h"

/* One trial: everything at a given Te, and the Tc that goes with it. */
typedef struct {
    const ct_system *sys;
    const ct_conditions *at;
    ct_coil_air air;
    double eps_C;            /* W/K, of the condenser in the air of this site */
    double Te_last, Tc_last; /* latest answer of the inner search, or where to begin */
    double dTc_dTe, Tc_stride;
    double slope_high; /* 1/K, of the high side's residual; 0: not known */
    double inner_tol;  /* of the latest inner search */
    double off; /* size of the latest residual of the low side, or what to expect of the first */
    int evaluations;

    /* filled by the latest high-side evaluation */
    double Te, Tc;
    double superheat;              /* K at the coil outlet, below 0 is wet */
    ct_compressor_suction suction; /* with a valve: the same for every Tc of this Te */
    ct_suction_line line;          /* with an orifice: the same for every Tc of this Te */
    double p_coil;                 /* Pa, with an orifice */
    double suction_superheat;      /* K, with an orifice: the latest, a guess for the next */
    ct_compressor_out comp;
    ct_phases at_discharge;
    ct_condenser_state cond;
    ct_condenser_zones zones;
    double residual_high;
    int held; /* orifice superheat beyond what can be: -1 too wet, +1 too warm */
    bool high_computable, high_wrong_way; /* the latter: it was too low, not too high */
    ct_fault high_fault;

    /* filled by the latest low-side evaluation */
    ct_phases at_coil; /* at the coil outlet's pressure */
    double T_coil, T_boil, h_out, h_g, cp_g;
    double glides; /* K per J/kg of liquid, T_boil; 0 without glide */
    ct_coil_through path;
    double residual_low;
    ct_outcome trouble; /* CT_BALANCED when none */
    ct_fault fault;
    ct_outcome met; /* latest trouble met on the way */
    ct_fault met_fault;
    bool blind;   /* on the way, a trial that says nothing of where the balance is */
    double slope; /* of the outer search's last secant */
} ct_trial;

/* K of superheat from the coil outlet to the compressor. */
static inline double ct_trial_line_superheat(const ct_trial *t)
{
    return ct_plant_line_superheat(&t->sys->outdoor, t->at->T_out, t->Te);
}

/* The balance at a trial that solves both sides. */
void ct_balance_record(const ct_trial *, ct_balance *);

/* The outcome, its status and a fault that words it. */
ct_status ct_balance_record_failure(const ct_trial *, ct_outcome, ct_balance *, ct_fault *);

/* One point of the two curves. */
void ct_balance_record_trial(const ct_trial *, ct_balance_trial *);

#endif
