#include "case/defaults_outdoor.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/units.h"
#include "case/assume.h"
#include "case/keys.h"
#include "case/note.h"

#define CFM_PER_TON 400.0
/* Ducted split systems tested with the higher duct resistance of the newer procedure (0.50 in wc
 * instead of 0.10 to 0.20): customary ratio of the new figures to the old, common practice, no
 * source. */
#define NEW_OVER_OLD 0.95
#define CD_TWO_STAGES 0.11 /* two-speed units, open energy-rating workflow of NREL */
#define CD_YEAR 2017       /* AHRI 210/240 since then: 0.20 */

static const ct_node *given(const ct_reader *r, const char *key)
{
    return ct_tree_find(r->root, key);
}

static void assume(ct_reader *r, const char *key, double v, ct_unit_kind kind, const char *unit)
{
    ct_assume_number(r->report, key, v, kind, unit, ct_assume_why(key));
}

/* y at x on the broken line through n points; flat beyond its ends. */
static double broken_line(const double (*point)[2], int n, double x)
{
    int i = 1;
    if (x <= point[0][0]) return point[0][1];
    while (i < n && x > point[i][0])
        i++;
    if (i == n) return point[n - 1][1];
    const double share = (x - point[i - 1][0]) / (point[i][0] - point[i - 1][0]);
    return point[i - 1][1] + share * (point[i][1] - point[i - 1][1]);
}

/* ---- Efficiency: one of four figures ---------------------------------------------- */

/* EER = -0.02 S^2 + 1.12 S of a single-speed unit, Wassmer 2003 (M.S. thesis, University of
 * Colorado), as quoted in Hendron & Engebrecht 2010, eq. 3. It peaks at S = 28. Btu/Wh. */
static double eer_from_seer(double S)
{
    S = fmin(S, 28.0);
    return S * (1.12 - 0.02 * S);
}

static double seer_from_eer(double EER)
{
    return 28.0 - sqrt(fmax(784.0 - 50.0 * EER, 0.0));
}

static bool read_efficiency(const ct_reader *r, const char *key, double *v)
{
    const ct_node *node = given(r, key);
    return node && ct_units_read(node->text, CT_UNIT_EER, v, NULL) == CT_OK;
}

/* A newer label is brought back to the older procedure, whose tests the model runs. */
static void derive_efficiency(ct_reader *r, ct_outdoor_unit *o)
{
    static const char *const back = "the newer label divided by 0.95, customary for ducted split "
                                    "systems: tested at 0.50 in wc of duct";
    double v;
    if (read_efficiency(r, "outdoor.rated_eer2", &v)) {
        o->EER = v / NEW_OVER_OLD;
        ct_assume_number(r->report, "outdoor.rated_eer", o->EER, CT_UNIT_EER, "Btu/Wh", back);
    }
    if (read_efficiency(r, "outdoor.rated_seer", &v)) o->SEER_label = (ct_maybe){true, v};
    if (read_efficiency(r, "outdoor.rated_seer2", &v)) {
        o->SEER_label = (ct_maybe){true, v / NEW_OVER_OLD};
        ct_assume_number(r->report, "outdoor.rated_seer", o->SEER_label.v, CT_UNIT_EER, "Btu/Wh",
                         back);
    }
    if (!o->SEER_label.has) return;
    o->EER = CT_W_PER_BTUH * eer_from_seer(o->SEER_label.v / CT_W_PER_BTUH);
    o->assumed |= CT_ASSUMED_EER;
    ct_assume_number(r->report, "outdoor.rated_eer", o->EER, CT_UNIT_EER, "Btu/Wh",
                     "from the SEER: -0.02 SEER^2 + 1.12 SEER, single-speed units (Wassmer 2003)");
}

/* SEER of the label, or the one that usually goes with the EER, Btu/Wh: the class of the unit. */
static double efficiency_class(const ct_outdoor_unit *o)
{
    return o->SEER_label.has ? o->SEER_label.v / CT_W_PER_BTUH
                             : seer_from_eer(o->EER / CT_W_PER_BTUH);
}

/* Defaults of AHRI 210/240 for a unit without a cyclic test. But most labels come from one, and an
 * open energy-rating workflow uses 0.07 from SEER 13: with the standard's figure the EER of such a
 * label would be 5 to 8 % above every published relation. So a unit of unknown age goes from the
 * older default at SEER 10 to 0.07 at 13. */
static void derive_degradation(ct_reader *r, ct_outdoor_unit *o)
{
    static const double usual[][2] = {{10, 0.25}, {13, 0.07}};
    if (given(r, "outdoor.degradation")) return;
    if (o->year.has)
        o->CD = o->year.v < CD_YEAR ? 0.25 : 0.20;
    else if (o->low.has)
        o->CD = CD_TWO_STAGES;
    else
        o->CD = broken_line(usual, 2, efficiency_class(o));
    assume(r, "outdoor.degradation", o->CD, CT_UNIT_NONE, "");
}

/* ---- Air and power ---------------------------------------------------------------- */

static void derive_airflow(ct_reader *r, ct_outdoor_unit *o)
{
    if (given(r, "outdoor.rated_airflow")) return;
    o->V_rated_std = CFM_PER_TON * CT_M3S_PER_CFM * o->tons;
    assume(r, "outdoor.rated_airflow", o->V_rated_std, CT_UNIT_AIRFLOW, "cfm");
}

/* W/cfm at the rating: the coil-only default of 10 CFR 430 appendix M up to SEER 10; 0.25 to 14 and
 * 0.18 from 16 as in an open library of rated performance, a straight line between. Outdoor fan, W
 * per ton: common practice, no source; NISTIR 7350's unit of SEER 13 had 63. */
static void derive_powers(ct_reader *r, ct_outdoor_unit *o)
{
    static const double blower[][2] = {{10, 0.365}, {13, 0.25}, {14, 0.25}, {16, 0.18}};
    static const double fan[][2] = {{13, 70}, {16, 50}};
    const double V = o->V_rated_std / CT_M3S_PER_CFM;
    if (!given(r, "outdoor.rated_blower_power")) {
        o->P_blower_rated = V * broken_line(blower, 4, efficiency_class(o));
        assume(r, "outdoor.rated_blower_power", o->P_blower_rated, CT_UNIT_POWER, "W");
    }
    if (given(r, "outdoor.fan_power")) return;
    o->P_fan = o->tons * broken_line(fan, 2, efficiency_class(o));
    assume(r, "outdoor.fan_power", o->P_fan, CT_UNIT_POWER, "W");
}

/* ---- Temperatures and sensible share ---------------------------------------------- */

/* The sensible share of a coil at the A test rises with its airflow: 0.0053 per 10 cfm/ton, slope
 * of the regression of sensible heat ratio by A. Conant used in a state energy-code reference
 * method, which has 0.7175 at 400 cfm per ton. Counted on tons of gross capacity: the coil knows no
 * nominal ton. */
static void derive_sensible_ratio(ct_reader *r, ct_outdoor_unit *o)
{
    const double tons = (o->Q_net + o->P_blower_rated) / CT_W_PER_TON;
    const double per_ton = o->V_rated_std / CT_M3S_PER_CFM / tons;
    if (given(r, "outdoor.rated_sensible_ratio")) return;
    o->assumed |= CT_ASSUMED_SHR;
    o->SHR_rated = fmin(fmax(0.72 + 0.00053 * (per_ton - CFM_PER_TON), 0.60), 0.90);
    assume(r, "outdoor.rated_sensible_ratio", o->SHR_rated, CT_UNIT_FRACTION, "%");
}

/* F over the outdoor air, by SEER: 30, 25, 20, 15; common practice, no source. */
static double discharge_over_ambient(const ct_outdoor_unit *o)
{
    static const double over[][2] = {{8, 30}, {10, 25}, {13, 20}, {16, 15}};
    return broken_line(over, 4, efficiency_class(o));
}

static void derive_discharge(ct_reader *r, ct_outdoor_unit *o)
{
    const ct_node *vintage = given(r, "outdoor.vintage");
    double over = discharge_over_ambient(o);
    if (given(r, "outdoor.rated_saturated_discharge")) return;
    o->assumed |= CT_ASSUMED_DISCHARGE;
    if (vintage)
        over = ct_key_word(ct_key_find(&ct_case_keys, "outdoor.vintage"), vintage->text, NULL) == 1
                   ? 25.0
                   : 20.0;
    o->T_discharge_rated = ct_K_from_F(95.0 + over);
    assume(r, "outdoor.rated_saturated_discharge", o->T_discharge_rated, CT_UNIT_TEMPERATURE, "F");
}

/* One key of the liquid line calls for all of them. */
static void derive_liquid_line(ct_reader *r, ct_outdoor_unit *o)
{
    const double lift = o->line_lift.has ? o->line_lift.v : 0.0;
    const struct {
        const char *key, *unit;
        ct_maybe *field;
        double usual;
    } row[] = {
        {"outdoor.liquid_line_lift", "ft", &o->line_lift, 0.0},
        {"outdoor.liquid_line_length", "ft", &o->line_length, fmax(25.0 * CT_M_PER_FT, fabs(lift))},
        {"outdoor.liquid_line_diameter", "in", &o->line_od, 0.375 * CT_M_PER_IN}};

    if (!o->line_lift.has && !o->line_length.has && !o->line_od.has) return;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        if (row[i].field->has) continue;
        *row[i].field = (ct_maybe){true, row[i].usual};
        assume(r, row[i].key, row[i].usual, CT_UNIT_LENGTH, row[i].unit);
    }
}

/* In heating as in cooling where nothing else is said. */
static void derive_heat_pump(ct_reader *r, ct_outdoor_unit *o)
{
    ct_heat_pump_spec *h = &o->heat_pump;
    h->has = h->has && h->use == CT_HEAT_PUMP_USED;
    if (!h->has) return;
    if (!h->Q_net.has) {
        h->Q_net = (ct_maybe){true, o->Q_net};
        assume(r, "outdoor.heat_pump.rated_capacity", o->Q_net, CT_UNIT_POWER, "Btu/h");
    }
    if (!given(r, "outdoor.heat_pump.rated_airflow")) {
        h->V_std = o->V_rated_std;
        assume(r, "outdoor.heat_pump.rated_airflow", h->V_std, CT_UNIT_AIRFLOW, "cfm");
    }
    if (!given(r, "outdoor.heat_pump.rated_blower_power")) {
        h->P_blower = o->P_blower_rated;
        assume(r, "outdoor.heat_pump.rated_blower_power", h->P_blower, CT_UNIT_POWER, "W");
    }
}

/* Figures of the low stage that nobody stated. */
static void derive_low_figures(ct_reader *r, const ct_outdoor_unit *o, ct_low_stage_spec *low)
{
    if (!given(r, "outdoor.low_stage.rated_airflow")) {
        low->V_std = CT_LOW_STAGE_AIRFLOW * o->V_rated_std;
        assume(r, "outdoor.low_stage.rated_airflow", low->V_std, CT_UNIT_AIRFLOW, "cfm");
    }
    if (!given(r, "outdoor.low_stage.rated_blower_power")) {
        low->P_blower = o->P_blower_rated * low->V_std / o->V_rated_std;
        assume(r, "outdoor.low_stage.rated_blower_power", low->P_blower, CT_UNIT_POWER, "W");
    }
    if (!given(r, "outdoor.low_stage.fan_power")) {
        low->P_fan = o->P_fan;
        assume(r, "outdoor.low_stage.fan_power", low->P_fan, CT_UNIT_POWER, "W");
    }
    if (given(r, "outdoor.low_stage.rated_capacity")) return;
    low->Q_net = CT_LOW_STAGE_CAPACITY * (o->Q_net + o->P_blower_rated) - low->P_blower;
    assume(r, "outdoor.low_stage.rated_capacity", low->Q_net, CT_UNIT_POWER, "Btu/h");
}

static void derive_low_stage(ct_reader *r, ct_outdoor_unit *o)
{
    if (!o->low.has) return;
    derive_low_figures(r, o, &o->low);
    if (given(r, "outdoor.low_stage.rated_eer")) return;
    o->assumed |= CT_ASSUMED_LOW_EER;
    o->low.EER = CT_LOW_STAGE_EER * o->EER;
    assume(r, "outdoor.low_stage.rated_eer", o->low.EER, CT_UNIT_EER, "Btu/Wh");
}

void ct_defaults_outdoor(ct_reader *r, ct_outdoor_unit *o)
{
    o->compressor = given(r, "outdoor.compressor_map") ? CT_COMPRESSOR_MAP : CT_COMPRESSOR_PHYSICAL;
    if (!given(r, "outdoor.rated_saturated_suction")) o->assumed |= CT_ASSUMED_SUCTION;
    if (!given(r, "outdoor.subcooling")) o->assumed |= CT_ASSUMED_SUBCOOLING;
    o->low.has = o->low.has || o->stages != CT_STAGES_ONE;
    derive_airflow(r, o);
    derive_efficiency(r, o);
    derive_degradation(r, o);
    derive_powers(r, o);
    derive_sensible_ratio(r, o);
    derive_discharge(r, o);
    derive_liquid_line(r, o);
    derive_heat_pump(r, o);
    derive_low_stage(r, o);
}
