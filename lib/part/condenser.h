/* Condenser: how far above the outdoor air the refrigerant must condense to shed its heat.
 *
 * Three zones share the face: the discharge vapor cools to dew, condenses, and the liquid is
 * subcooled. Every tube sees entering air. A zone with conductance UA_z, were it the whole, takes
 * the share w_z of area and of air that its own heat needs, by the effectiveness of an exchanger
 * with one stream on each side (Kays & London, Compact Heat Exchangers), integrated along the
 * refrigerant:
 *   w_v  = ln[(T2 - Ta)/(Tc - Ta)] m cp_v/(Ca e_v),   e_z = 1 - exp(-UA_z/Ca)
 *   w_tp = m h_fg/(Ca e_tp (Tc - Ta))
 *   w_l  = ln[(Tb - Ta)/(Tb - SC - Ta)] m cp_l/(Ca e_l)
 * and w_v + w_tp + w_l = 1 is the balance. So subcooling costs condensing area, and the liquid
 * cannot leave colder than the air. The outdoor fan has one speed: effectiveness and air flow are
 * constant. SI. Public. */
#ifndef CT_PART_CONDENSER_H
#define CT_PART_CONDENSER_H

#include "base/status.h"
#include "fluid/refrigerant.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    double eps_C;      /* W/K, e_tp Ca: the whole face condensing, per K, at CT_ATM_PA */
    double subcooling; /* K, leaving the condenser: set by the charge */
} ct_condenser;

typedef struct {
    double T_mid;           /* K, temperature the air sees: mean of dew and bubble */
    double T_dew, T_bubble; /* K, at the discharge pressure */
    double h_dew, h_bubble; /* J/kg */
    double cp_dew;          /* J/kg K, of the vapor at dew */
    double subcooling;      /* K */
    double h_liquid;        /* J/kg, leaving, subcooled */
    double rho_liquid;      /* kg/m3, the same */
} ct_condenser_state;

/* What arrives from the compressor. */
typedef struct {
    double m;  /* kg/s */
    double h2; /* J/kg, discharge */
    double cp; /* J/kg K, mean from dew to discharge; <= 0: that of the dew */
} ct_condenser_flow;

typedef struct {
    double vapor, two_phase, liquid; /* shares of the face; they sum to 1 at the balance */
} ct_condenser_zones;

/* Conductances of the other zones over the condensing one's, and the usual NTU of that: 1200, 1100
 * and 2000 W/K on 1650 W/K of air are a worked example (tests/test_condenser.c); common practice,
 * no source. */
#define CT_CONDENSER_NTU 1.3
#define CT_CONDENSER_VAPOR 0.60
#define CT_CONDENSER_LIQUID 0.55

/* e_v and e_l over e_tp for a condensing zone of NTU. For host programs; the library has the values
 * at the usual conductances written down. */
CT_API void ct_condenser_relative(double NTU, double vapor, double liquid, double *e_v,
                                  double *e_l);

/* eps_C in outdoor air at p Pa, W/K. The fan moves the same volume of thinner air: C goes with the
 * pressure, the air-side conductance with its square root (laminar layer on fins, h ~ flow^0.5),
 * and at the usual NTU of about 1.3 their eps C goes with p^0.75 (derivation in condenser.c; the
 * two assumptions are common practice, no source). The rating, at CT_ATM_PA, is unchanged. */
CT_API double ct_condenser_eps_C(const ct_condenser *, double p);

/* Refrigerant side of a condenser whose discharge dew temperature is Tc (K). CT_RANGE. */
CT_API ct_status ct_condenser_state_at(const ct_condenser *, const ct_refrigerant *, double Tc,
                                       ct_condenser_state *, ct_fault *);

/* The same where both phases at Tc are at hand. */
ct_status ct_condenser_state_of(const ct_condenser *, const ct_refrigerant *, double Tc,
                                const ct_phases *, ct_condenser_state *, ct_fault *);

/* The shares each zone needs in air of T_air (K), below dew and bubble. Without a finite answer,
 * where the liquid would be no warmer than the air, `liquid` is infinite. */
CT_API ct_condenser_zones ct_condenser_shares(const ct_condenser_state *, const ct_condenser_flow *,
                                              double eps_C, double T_air);

/* Heat the condenser could shed over the heat it has to, less 1: 1/(w_v + w_tp + w_l) - 1, which
 * rises with the condensing temperature; beyond where there are shares, on below -1. */
CT_API double ct_condenser_residual(const ct_condenser_state *, const ct_condenser_zones *,
                                    double T_air);

#ifdef __cplusplus
}
#endif
#endif
