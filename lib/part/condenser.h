/* Condenser: how far above the outdoor air the refrigerant must condense to shed its heat.
 *
 * Air-side effectiveness-NTU against a condensing refrigerant at one temperature, the
 * desuperheating and subcooling shares lumped in. With the outdoor fan at its one speed,
 * effectiveness and air capacity rate are constant and only their product matters. Source:
 * effectiveness of an exchanger with one stream at constant temperature, eps = 1 - exp(-NTU), Kays
 * & London, Compact Heat Exchangers; Q = eps C (Tc - Tamb). Public. */
#ifndef CT_PART_CONDENSER_H
#define CT_PART_CONDENSER_H

#include "base/status.h"
#include "fluid/refrigerant.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    double eps_C;      /* W/K, effectiveness times air capacity rate, at CT_ATM_PA */
    double subcooling; /* K, leaving the condenser: set by the charge */
} ct_condenser;

typedef struct {
    double T_mid;    /* K, temperature the air sees: mean of dew and bubble */
    double T_bubble; /* K, bubble temperature at the discharge pressure */
    double h_liquid; /* J/kg, leaving, subcooled */
} ct_condenser_state;

/* eps_C in outdoor air at p Pa, W/K. The fan moves the same volume of thinner air: C goes with the
 * pressure, the air-side conductance with its square root (laminar layer on fins, h ~ flow^0.5),
 * and at the usual NTU of about 1.3 their eps C goes with p^0.75 (derivation in condenser.c; the
 * two assumptions are common practice, no source). The rating, at CT_ATM_PA, is unchanged. */
CT_API double ct_condenser_eps_C(const ct_condenser *, double p);

/* Refrigerant side of a condenser whose discharge dew temperature is Tc (K). CT_RANGE. */
CT_API ct_status ct_condenser_state_at(const ct_condenser *, const ct_refrigerant *, double Tc,
                                       ct_condenser_state *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
