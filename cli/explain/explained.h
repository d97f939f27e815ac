/* Explain: one balance taken apart, step by step, and a second one set against it.
 *
 * Works from a judged point of the sweep: nothing of the answer is found here, only asked for again
 * piece by piece through the library, so that each piece can be shown with its sum. */
#ifndef CLI_EXPLAIN_EXPLAINED_H
#define CLI_EXPLAIN_EXPLAINED_H

#include "judge/sweep.h"
#include "plant/curves.h"
#include "show/sheet.h"

/* A balanced point with the pieces it was made of, SI. */
typedef struct {
    const ct_sweep_job *job;
    const ct_point *point;
    ct_solver *solver;
    ct_conditions at;
    double T_dp;               /* K, where water begins to condense, as the coil has it */
    double p_vapor, p_sat;     /* Pa, of the return air and at its saturation */
    ct_coil_air air;           /* air side of the coil */
    double UAi;                /* W/K */
    ct_condenser_state cond;   /* refrigerant leaving the condenser */
    double h_out, h1;          /* J/kg, refrigerant leaving the coil and at the compressor */
    ct_compressor_out comp;    /* as it runs */
    ct_compressor_out nominal; /* at the superheat its size is stated for */
    ct_system system;          /* the job's, its subcooling held as it was found */
    ct_balance_trial here;     /* the trial at the balance's own suction */
} explained;

/* CT_OK: the point balances and every piece was found. */
ct_status explained_point(ct_solver *, const ct_sweep_job *, const ct_point *, explained *,
                          ct_fault *);

/* "350 cfm/ton", or the name of the blower tap. */
void explained_name(const sheet *, const explained *, char *name, size_t size);

#endif
