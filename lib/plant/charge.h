/* Charge of the system: the refrigerant in it, and the balance at a charge that stays.
 *
 * With a valve the superheat is held and the charge shows as subcooling. With a piston neither is
 * held: what stays when the day changes is the charge, and superheat and subcooling follow. The
 * inventory counts condenser (hot vapor, condensing, liquid, by their shares of the face), liquid
 * line and evaporator (boiling and dry). Inner volumes are rarely known; they are taken relative to
 * the condenser's, and only ratios of charges are used. SI. Public. */
#ifndef CT_PLANT_CHARGE_H
#define CT_PLANT_CHARGE_H

#include "plant/balance_answer.h"
#include "plant/plant.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Inner volumes over the condenser's: common practice, no source (a 3 ton split: condenser about 5
 * l, coil 3 l, 25 ft of 3/8 in liquid line 0.5 l). */
#define CT_CHARGE_COIL_VOLUME 0.6
#define CT_CHARGE_LINE_VOLUME 0.1

/* kg per m3 of condenser volume at a balance of this system. CT_RANGE from the tables. */
CT_API ct_status ct_charge_of(const ct_system *, const ct_balance *, double *charge, ct_fault *);

/* What the inventory goes by. */
typedef struct {
    const ct_phases *condenser, *coil;       /* at the discharge, and at the coil's outlet */
    double desuperheat_share, subcool_share; /* of the condenser's face */
    double rho_liquid, h_liquid;             /* kg/m3, J/kg, leaving the condenser */
    double superheat_area, quality_out;      /* of the coil */
} ct_charge_places;

/* kg per m3 of condenser volume. Internal. */
double ct_charge_in(const ct_charge_places *);

#define CT_CHARGE_SUBCOOLING_MAX 16.0 /* K */

/* A balance of the system at this subcooling, K, whatever its charge. */
typedef ct_status (*ct_charge_trial)(double subcooling, void *context, ct_balance *, ct_fault *);

typedef struct {
    const ct_system *system;
    ct_charge_trial balance;
    void *context;
    double near, near_slope; /* K and 1/K, a neighbor's answer and the slope there; 0: none */
} ct_charge_job;

/* The balance at which the charge is that of the system (> 0), found over the subcooling from that
 * of its condenser on; out->subcooling has it. Where even without subcooling there is more in the
 * system, the liquid line would carry gas: the balance is then that without subcooling, and
 * out->charge_beyond is -1. It is +1 where the most subcooling holds less. ct_balance_solve comes
 * here by itself. Fails as the trial does. */
CT_API ct_status ct_charge_search(const ct_charge_job *, ct_balance *out, ct_fault *);

/* Its first part alone: from the neighbor's subcooling along secants. False: it does not lead
 * there, and *out is nothing. Internal. */
bool ct_charge_follow(const ct_charge_job *, ct_balance *out);

/* The charge of a system whose speed is set to m_da kg/s of dry air; 0: the subcooling is held. */
CT_API double ct_charge_at(const ct_system *, double m_da);

/* The system charged at m_da, and left so: at any other airflow it has that charge. Internal. */
ct_system ct_charge_kept(const ct_system *, double m_da);

/* The system with the subcooling it has at a balance held, for trials about that balance. */
CT_API ct_system ct_charge_as_found(const ct_system *, const ct_balance *);

#ifdef __cplusplus
}
#endif
#endif
