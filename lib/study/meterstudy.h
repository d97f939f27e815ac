/* Metering study: the argument for the valve, and the bore for the piston.
 *
 * The same system and airflow over a range of outdoor temperatures, or of subcooling (the charge),
 * with the metering device it has and with the other kind: a valve holds its superheat, a piston's
 * falls until the coil floods. And the bore that would give the superheat wanted. SI. Public. */
#ifndef CT_STUDY_METERSTUDY_H
#define CT_STUDY_METERSTUDY_H

#include "base/status.h"
#include "base/steps.h"
#include "plant/balance.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    double x; /* K: outdoor temperature, or subcooling */
    ct_status status;
    ct_balance balance;
    char why[200];
} ct_study_point;

/* Steps of outdoor temperature, K; as many points. Points that do not balance say why. A valve
 * holds the subcooling; a piston system keeps its charge, or one not filled that of `at`
 * (plant/charge.h). */
CT_API void ct_meterstudy_outdoors(ct_solver *, const ct_system *, const ct_conditions *,
                                   const ct_steps *, ct_study_point *);

/* Steps of subcooling, K, 0 to 20. */
CT_API void ct_meterstudy_subcooling(ct_solver *, const ct_system *, const ct_conditions *,
                                     const ct_steps *, ct_study_point *);

/* A charge that is off from that of the system as it is. */
typedef struct {
    double off;                               /* fraction, -0.3 to 0.3 */
    bool has;                                 /* the model can follow: no gas in the liquid line */
    double subcooling;                        /* K */
    double capacity, power;                   /* over those at the right charge */
    double measured_capacity, measured_power; /* the same of a valve unit, part/charge.h; or NaN */
} ct_charge_point;

/* Steps of `off`; as many points. Fails as ct_balance_solve at the right charge. */
CT_API ct_status ct_meterstudy_charge(ct_solver *, const ct_system *, const ct_conditions *,
                                      const ct_steps *off, ct_charge_point *, ct_fault *);

/* What the other device is to do. */
typedef struct {
    double superheat; /* K at the coil's outlet */
    double length;    /* m, of the piston's tube; a valve has no use for it */
} ct_meter_wanted;

typedef struct {
    double m;            /* kg/s that a coil with this superheat takes */
    double bore;         /* m, exact */
    double below, above; /* m, nearest pistons; NaN where there is none */
} ct_bore_choice;

/* Bore at which the coil has the superheat wanted at these conditions: the flow of a valve that
 * held it, through a tube of that length. Fails as ct_balance_solve and ct_orifice_bore. */
CT_API ct_status ct_meterstudy_bore(ct_solver *, const ct_system *, const ct_conditions *,
                                    const ct_meter_wanted *, ct_bore_choice *, ct_fault *);

/* The same system with the other kind of device: a piston sized (exactly) to the valve's superheat
 * at these conditions, or a valve holding the superheat wanted. */
CT_API ct_status ct_meterstudy_other(ct_solver *, const ct_system *, const ct_conditions *,
                                     const ct_meter_wanted *, ct_system *other, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
