#include "explain/explain.h"

#include <math.h>
#include <stdio.h>

#include "base/units.h"
#include "fluid/air.h"
#include "show/limit_words.h"

#define TERMS(...) ((const term[]){__VA_ARGS__})
#define BTU_LB CT_JKG_PER_BTULB

/* How far from the balance the two trial suctions lie that show why it is there. */
#define TRIAL_STEP (4.0 / CT_F_PER_K)

/* ---- Collecting ------------------------------------------------------------------ */

static ct_status refrigerant_states(explained *e, ct_fault *fault)
{
    const ct_outdoor *o = &e->job->system.outdoor;
    const ct_balance *b = &e->point->balance;
    ct_compressor_in in = {b->Te, b->Tc, 0.0};
    ct_status status = ct_condenser_state_at(&o->condenser, o->refrigerant, b->Tc, &e->cond, fault);
    if (status == CT_OK)
        status = ct_balance_try(e->solver, &e->job->system, &e->at, b->Te, &e->here, fault);
    if (status != CT_OK) return status;
    e->h_out = e->cond.h_liquid + e->here.Q_unit / e->here.m_r;
    e->h1 = e->h_out + b->Q_line / b->m_r;
    in.superheat = e->here.superheat + o->suction_drop + o->suction_gain;
    status = ct_compressor_run(&o->compressor, o->refrigerant, &in, &e->comp, fault);
    in.superheat = o->compressor.superheat_ref;
    if (status == CT_OK)
        status = ct_compressor_run(&o->compressor, o->refrigerant, &in, &e->nominal, fault);
    return status;
}

ct_status explain_point(ct_solver *solver, const ct_sweep_job *job, const ct_point *point,
                        explained *e, ct_fault *fault)
{
    const ct_air *air = &job->indoor;
    if (point->status != CT_OK)
        return ct_fail(fault, point->status, NAN, NAN, NAN, "%s", point->why);
    *e = (explained){.job = job,
                     .point = point,
                     .solver = solver,
                     .at = {*air, job->T_out, point->m_da, point->P_blower}};
    e->p_sat = ct_air_psat(air->T);
    e->p_vapour = air->p * air->W / (CT_AIR_EPS + air->W);
    const ct_status status =
        ct_coil_at_air(&job->system.coil, &point->balance.in, point->m_da, &e->air, fault);
    if (status != CT_OK) return status;
    e->T_dp = e->air.T_dp;
    e->UAi = ct_coil_UAi(&job->system.coil, point->balance.m_r);
    return refrigerant_states(e, fault);
}

void explain_name(const sheet *s, const explained *e, char *name, size_t size)
{
    if (e->point->tap >= 0)
        snprintf(name, size, "tap '%s'", e->job->unit->blower.tap[e->point->tap].name);
    else
        snprintf(name, size, "%s", sheet_show(s, M_PER_TON, e->point->V_std_per_ton));
}

/* ---- Constants of moist air, in the sheet's units -------------------------------- */

static term c_pa(const sheet *s)
{
    return sheet_constant(s, CT_AIR_CPA / BTU_LB / CT_F_PER_K, CT_AIR_CPA / 1e3, 4);
}

static term c_pv(const sheet *s)
{
    return sheet_constant(s, CT_AIR_CPV / BTU_LB / CT_F_PER_K, CT_AIR_CPV / 1e3, 4);
}

/* Enthalpy of vapour at the zero of the scale, F or C. */
static term h_v0(const sheet *s)
{
    return sheet_constant(s, CT_AIR_HG0 / BTU_LB - 32.0 * CT_AIR_CPV / BTU_LB / CT_F_PER_K,
                          CT_AIR_HG0 / 1e3, 1);
}

static term grains(const sheet *s)
{
    return sheet_constant(s, 7000, 1000, 0);
}

/* Heat of one watt: Btu/h or kW. */
static term per_watt(const sheet *s)
{
    return sheet_constant(s, 1.0 / CT_W_PER_BTUH, 1e-3, 3);
}

static term absolute_zero(const sheet *s)
{
    return sheet_constant(s, 459.67, 273.15, 2);
}

/* v = RA T (1 + W/eps)/p in ft3 psi/lb R, or in m3 kPa/kg K. */
static term gas_constant(const sheet *s)
{
    const double ft3 = CT_M_PER_FT * CT_M_PER_FT * CT_M_PER_FT;
    return sheet_constant(s, CT_AIR_RA * CT_KG_PER_LBM / ft3 / CT_F_PER_K / CT_PA_PER_PSI,
                          CT_AIR_RA / 1e3, 4);
}

/* ---- 1 The air that comes back --------------------------------------------------- */

static void say_humidity(sheet *s, const explained *e)
{
    const ct_air *a = &e->job->indoor;
    sheet_given(s, "return_dry_bulb", "Dry bulb", M_TEMPERATURE, a->T);
    sheet_given(s, "barometric_pressure", "Barometric pressure", M_PRESSURE, a->p);
    sheet_given(s, "relative_humidity", "Relative humidity", M_PERCENT, ct_air_rh(a));
    sheet_given(s, "saturation_pressure", "Vapour pressure of saturated air there (steam table)",
                M_VAPOUR, e->p_sat);
    sheet_given(s, "dew_point", "Dew point: water begins to come out here", M_TEMPERATURE, e->T_dp);
    sheet_sum(s, "vapour_pressure", "Vapour pressure", "humidity x saturation pressure", M_VAPOUR,
              e->p_vapour, "# x # / 100",
              TERMS(sheet_term(s, M_PERCENT, ct_air_rh(a)), sheet_term(s, M_VAPOUR, e->p_sat)));
    sheet_sum(s, "return_moisture", "Moisture per mass of dry air W",
              sheet_metric(s) ? "1000 x 0.622 p_v / (p - p_v)" : "7000 x 0.622 p_v / (p - p_v)",
              M_MOISTURE, a->W, "# x # x # / (# - #)",
              TERMS(grains(s), sheet_constant(s, CT_AIR_EPS, CT_AIR_EPS, 3),
                    sheet_term(s, M_VAPOUR, e->p_vapour), sheet_term(s, M_PRESSURE, a->p),
                    sheet_term(s, M_VAPOUR, e->p_vapour)));
}

static void sum_enthalpy(sheet *s, const char *name, const char *label, const ct_air *a)
{
    sheet_sum(s, name, label, "c_a t + W (h_v + c_v t)", M_AIR_ENTHALPY, ct_air_h(a->T, a->W),
              "# x # + # / # x (# + # x #)",
              TERMS(c_pa(s), sheet_term(s, M_TEMPERATURE, a->T), sheet_term(s, M_MOISTURE, a->W),
                    grains(s), h_v0(s), c_pv(s), sheet_term(s, M_TEMPERATURE, a->T)));
}

static void section_air(sheet *s, const explained *e)
{
    sheet_section(s, "1  THE AIR THAT COMES BACK");
    sheet_say(s, "Air carries two things to the coil: its warmth (sensible heat) and its water "
                 "(latent heat). The enthalpy counts both.");
    say_humidity(s, e);
    sum_enthalpy(s, "return_enthalpy", "Enthalpy h", &e->job->indoor);
}

/* ---- 2 Airflow to mass flow ------------------------------------------------------ */

static void sum_mass_of_standard(sheet *s, const explained *e)
{
    const ct_point *p = e->point;
    const double density = CT_STD_DENSITY * CT_M_PER_FT * CT_M_PER_FT * CT_M_PER_FT / CT_KG_PER_LBM;
    sheet_sum(
        s, "standard_airflow", "Standard airflow", "airflow per ton x nominal tons", M_AIRFLOW,
        p->V_std, "# x #",
        TERMS(sheet_term(s, M_PER_TON, p->V_std_per_ton),
              sheet_constant(s, e->job->system.outdoor.tons, e->job->system.outdoor.tons, 2)));
    sheet_sum(s, "air_mass_flow", "Mass of dry air m_a",
              sheet_metric(s) ? "standard airflow x standard density / 1000"
                              : "standard airflow x standard density x 60",
              M_MASS_FLOW, p->m_da, sheet_metric(s) ? "# x # / #" : "# x # x #",
              TERMS(sheet_term(s, M_AIRFLOW, p->V_std),
                    sheet_constant(s, density, CT_STD_DENSITY, 4), sheet_constant(s, 60, 1000, 0)));
}

static void sum_mass_of_tap(sheet *s, const explained *e, double v)
{
    const ct_point *p = e->point;
    sheet_given(s, "blower_airflow", "Airflow where the tap's curve meets the ducts", M_AIRFLOW,
                p->V);
    sheet_given(s, "external_static", "External static there", M_STATIC, p->dp);
    sheet_given(s, "blower_volume", "Volume per unit of dry air at the blower", M_VOLUME, v);
    sheet_sum(s, "air_mass_flow", "Mass of dry air m_a",
              sheet_metric(s) ? "airflow / 1000 / volume" : "60 x airflow / volume", M_MASS_FLOW,
              p->m_da, sheet_metric(s) ? "# / # / #" : "# x # / #",
              TERMS(sheet_term(s, M_AIRFLOW, p->V),
                    sheet_metric(s) ? sheet_constant(s, 0, 1000, 0) : sheet_constant(s, 60, 0, 0),
                    sheet_term(s, M_VOLUME, v)));
    sheet_sum(s, "airflow_per_ton", "Standard airflow per nominal ton",
              "mass flow / standard density / tons", M_PER_TON, p->V_std_per_ton,
              sheet_metric(s) ? "# / # / # x #" : "# / # / # / #",
              TERMS(sheet_term(s, M_MASS_FLOW, p->m_da),
                    sheet_constant(
                        s, CT_STD_DENSITY * CT_M_PER_FT * CT_M_PER_FT * CT_M_PER_FT / CT_KG_PER_LBM,
                        CT_STD_DENSITY, 4),
                    sheet_constant(s, e->job->system.outdoor.tons, e->job->system.outdoor.tons, 2),
                    sheet_constant(s, 60, 1000, 0)));
}

static void sum_heated_by_blower(sheet *s, const explained *e)
{
    const ct_point *p = e->point;
    const ct_air *a = &e->job->indoor;
    sheet_say(s, "The blower stands before the coil, so its watts warm the air on the way in.");
    sheet_sum(s, "entering_dry_bulb", "Air entering the coil", "t + heat of the blower / (m_a c_p)",
              M_TEMPERATURE, p->balance.in.T, "# + # x # / (# x (# + # x # / #))",
              TERMS(sheet_term(s, M_TEMPERATURE, a->T), sheet_term(s, M_ELECTRIC, p->P_blower),
                    per_watt(s), sheet_term(s, M_MASS_FLOW, p->m_da), c_pa(s), c_pv(s),
                    sheet_term(s, M_MOISTURE, a->W), grains(s)));
    sum_enthalpy(s, "entering_enthalpy", "Its enthalpy h_in", &p->balance.in);
}

static void section_airflow(sheet *s, const explained *e)
{
    const ct_air *a = &e->job->indoor;
    const double v = e->job->system.before_coil
                         ? ct_air_v(a->T, a->W, a->p)
                         : ct_air_v(e->point->balance.out.T, e->point->balance.out.W, a->p);
    sheet_section(s, "2  AIRFLOW TO MASS FLOW");
    sheet_say(s, "Heat goes with mass, not with volume. So the airflow is first turned into "
                 "a mass of dry air; 'standard' airflow is that mass written as a volume.");
    sheet_sum(s, "return_volume", "Volume of the return air v",
              "R (t + absolute zero) (1 + W / 0.622) / p", M_VOLUME, ct_air_v(a->T, a->W, a->p),
              "# x (# + #) x (1 + # / # / #) / #",
              TERMS(gas_constant(s), sheet_term(s, M_TEMPERATURE, a->T), absolute_zero(s),
                    sheet_term(s, M_MOISTURE, a->W), grains(s),
                    sheet_constant(s, CT_AIR_EPS, CT_AIR_EPS, 3), sheet_term(s, M_PRESSURE, a->p)));
    if (e->point->tap >= 0)
        sum_mass_of_tap(s, e, v);
    else
        sum_mass_of_standard(s, e);
    if (e->job->system.before_coil) sum_heated_by_blower(s, e);
}

/* ---- 3 The coil ------------------------------------------------------------------ */

/* Dry up to where the surface meets the dew point; the formulas are coil.c's. */
static void say_where_it_starts(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const ct_coil_air *a = &e->air;
    const double T_x = e->T_dp + e->UAi / a->UAo_dry * (e->T_dp - b->T_boil);
    const double ntu = 1.0 / ((1.0 / e->UAi + 1.0 / a->UAo_dry) * e->point->m_da * a->cp);
    const term UAo = sheet_term(s, M_CONDUCTANCE, a->UAo_dry),
               UAi = sheet_term(s, M_CONDUCTANCE, e->UAi),
               T_r = sheet_term(s, M_TEMPERATURE, b->T_boil),
               T_dp = sheet_term(s, M_TEMPERATURE, e->T_dp),
               T_in = sheet_term(s, M_TEMPERATURE, b->in.T);
    sheet_sum(s, "first_surface", "Surface where the air enters, were it dry",
              "(UA_a t_in + UA_r t_r) / (UA_a + UA_r)", M_TEMPERATURE,
              (a->UAo_dry * b->in.T + e->UAi * b->T_boil) / (a->UAo_dry + e->UAi),
              "(# x # + # x #) / (# + #)", TERMS(UAo, T_in, UAi, T_r, UAo, UAi));
    sheet_sum(s, "condensing_starts_at", "Water comes out where the air has cooled to",
              "t_dew + UA_r / UA_a (t_dew - t_r)", M_TEMPERATURE, T_x, "# + # / # x (# - #)",
              TERMS(T_dp, UAi, UAo, T_dp, T_r));
    if (T_x >= b->in.T) {
        sheet_say(s, "The air is already cooler than that: the surface is below the dew point from "
                     "the first row on, and all of the boiling part of the coil is wet.");
        return;
    }
    if (T_x <= b->T_boil) {
        sheet_say(s, "No surface is that cold: the coil stays dry, and takes no water.");
        return;
    }
    sheet_sum(s, "transfer_units", "Transfer units of the dry stretch",
              "1 / ((1/UA_a + 1/UA_r) m_a c_p)", M_NUMBER, ntu, "1 / ((1 / # + 1 / #) x # x #)",
              TERMS(UAo, UAi, sheet_term(s, M_MASS_FLOW, e->point->m_da),
                    sheet_term(s, M_HEAT_CAPACITY, a->cp)));
    if (b->dry_share >= 1.0) {
        sheet_say(s, "The air leaves before it is that cool: the coil stays dry, and takes no "
                     "water.");
        return;
    }
    sheet_sum(
        s, "dry_share", "Share of the air's path that stays dry",
        "ln((t_in - t_r) / (t_x - t_r)) / transfer units", M_PERCENT, b->dry_share,
        "100 x ln((# - #) / (# - #)) / #",
        TERMS(T_in, T_r, sheet_term(s, M_TEMPERATURE, T_x), T_r, sheet_term(s, M_NUMBER, ntu)));
}

static void given_coil(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    sheet_given(s, "tube_temperature", "Boiling temperature in the tubes t_r", M_TEMPERATURE,
                b->T_boil);
    sheet_given(s, "air_side_conductance", "Air to surface, dry: conductance UA_a", M_CONDUCTANCE,
                e->air.UAo_dry);
    sheet_given(s, "refrigerant_side_conductance", "Surface to refrigerant: conductance UA_r",
                M_CONDUCTANCE, e->UAi);
    sheet_given(s, "entering_heat_capacity", "Heat capacity of the entering air c_p",
                M_HEAT_CAPACITY, e->air.cp);
    sheet_given(s, "superheat", "Superheat at the coil outlet", M_DIFFERENCE, b->superheat);
    sheet_given(s, "superheat_share", "Share of the coil that only warms vapour", M_PERCENT,
                b->superheat_share);
}

static void say_march(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    sheet_say(s,
              "From there the air is followed in small steps. At each step it loses warmth to a "
              "surface colder than itself, and water to a surface colder than its dew point. That "
              "march ends here:");
    sheet_given(s, "leaving_dry_bulb", "Air leaving the coil, dry bulb", M_TEMPERATURE, b->out.T);
    sheet_given(s, "leaving_moisture", "Air leaving the coil, moisture", M_MOISTURE, b->out.W);
    sheet_given(s, "coil_surface", "Coldest surface", M_TEMPERATURE, b->T_surface);
    sheet_given(s, "heat_in_water", "Heat that leaves with the water itself", M_HEAT, b->h_water);
    sheet_sum(
        s, "surface_below_dew_point", "Coldest surface below the dew point", "t_dew - t_s",
        M_DIFFERENCE, e->T_dp - b->T_surface, "# - #",
        TERMS(sheet_term(s, M_TEMPERATURE, e->T_dp), sheet_term(s, M_TEMPERATURE, b->T_surface)));
}

static void sum_split(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const term m = sheet_term(s, M_MASS_FLOW, e->point->m_da), Q = sheet_term(s, M_HEAT, b->Q),
               Qs = sheet_term(s, M_HEAT, b->Q_sens);
    sheet_sum(s, "water", "Water off the coil", "m_a (W_in - W_out)", M_WATER, b->water,
              sheet_metric(s) ? "# x (# - #)" : "# x (# - #) / 7000",
              TERMS(m, sheet_term(s, M_MOISTURE, b->in.W), sheet_term(s, M_MOISTURE, b->out.W)));
    sum_enthalpy(s, "leaving_enthalpy", "Enthalpy of the leaving air h_out", &b->out);
    sheet_sum(s, "coil_heat", "Heat the coil takes, all of it",
              "m_a (h_in - h_out) - heat in the water", M_HEAT, b->Q, "# x (# - #) - #",
              TERMS(m, sheet_term(s, M_AIR_ENTHALPY, ct_air_h(b->in.T, b->in.W)),
                    sheet_term(s, M_AIR_ENTHALPY, ct_air_h(b->out.T, b->out.W)),
                    sheet_term(s, M_HEAT, b->h_water)));
    sheet_sum(s, "coil_sensible", "of it sensible", "m_a (c_a + c_v W_out) (t_in - t_out)", M_HEAT,
              b->Q_sens, "# x (# + # x # / #) x (# - #)",
              TERMS(m, c_pa(s), c_pv(s), sheet_term(s, M_MOISTURE, b->out.W), grains(s),
                    sheet_term(s, M_TEMPERATURE, b->in.T), sheet_term(s, M_TEMPERATURE, b->out.T)));
    sheet_sum(s, "coil_latent", "of it latent", "the rest", M_HEAT, b->Q_lat, "# - #",
              TERMS(Q, Qs));
    sheet_sum(s, "coil_sensible_ratio", "Sensible heat ratio of the coil", "sensible / total",
              M_NUMBER, b->SHR, "# / #", TERMS(Qs, Q));
}

static void sum_bypass(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const double h_adp = ct_air_h(b->ADP, ct_air_W_sat(b->ADP, b->in.p));
    const term h_out = sheet_term(s, M_AIR_ENTHALPY, ct_air_h(b->out.T, b->out.W)),
               h_in = sheet_term(s, M_AIR_ENTHALPY, ct_air_h(b->in.T, b->in.W)),
               adp = sheet_term(s, M_AIR_ENTHALPY, h_adp);
    if (!b->has_adp) return;
    sheet_say(s, "On the chart the line from entering to leaving air, drawn on, meets saturation "
                 "at the apparatus dew point, as if some of the air had met a surface of that one "
                 "temperature and the rest had slipped by.");
    sheet_given(s, "apparatus_dew_point", "Apparatus dew point", M_TEMPERATURE, b->ADP);
    sheet_given(s, "apparatus_enthalpy", "Enthalpy of saturated air there h_adp", M_AIR_ENTHALPY,
                h_adp);
    sheet_sum(s, "bypass", "Share that slips by", "(h_out - h_adp) / (h_in - h_adp)", M_NUMBER,
              b->bypass, "(# - #) / (# - #)", TERMS(h_out, adp, h_in, adp));
}

static void section_coil(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    sheet_section(s, "3  THE COIL");
    sheet_say(s, "Heat goes from the air to the surface and on to the refrigerant boiling in the "
                 "tubes. The surface lies between the two; which it lies nearer to depends on "
                 "which side passes heat better.");
    given_coil(s, e);
    say_where_it_starts(s, e);
    if (b->dry_share < 1.0)
        say_march(s, e);
    else {
        sheet_given(s, "leaving_dry_bulb", "Air leaving the coil, dry bulb", M_TEMPERATURE,
                    b->out.T);
        sheet_given(s, "leaving_moisture", "Air leaving the coil, moisture", M_MOISTURE, b->out.W);
        sheet_given(s, "coil_surface", "Coldest surface", M_TEMPERATURE, b->T_surface);
        sheet_given(s, "heat_in_water", "Heat that leaves with water", M_HEAT, b->h_water);
    }
    sum_split(s, e);
    sum_bypass(s, e);
}

/* ---- 4 The refrigerant ----------------------------------------------------------- */

static void sum_flow(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const ct_compressor *c = &e->job->system.outdoor.compressor;
    const double ratio = b->p_discharge / b->p_suction;
    const term nominal = sheet_term(s, M_MASS_FLOW, e->nominal.m);
    sheet_sum(
        s, "pressure_ratio", "Pressure ratio", "p_discharge / p_suction", M_NUMBER, ratio, "# / #",
        TERMS(sheet_term(s, M_PRESSURE, b->p_discharge), sheet_term(s, M_PRESSURE, b->p_suction)));
    if (c->kind == CT_COMPRESSOR_PHYSICAL) {
        sheet_sum(
            s, "volumetric_efficiency", "Share of the stroke that fills",
            "1 - clearance (ratio^(1/n) - 1)", M_NUMBER, e->comp.eta_v, "1 - # x (#^(1 / #) - 1)",
            TERMS(sheet_constant(s, CT_COMPRESSOR_CLEARANCE, CT_COMPRESSOR_CLEARANCE, 2),
                  sheet_term(s, M_NUMBER, ratio),
                  sheet_constant(s, CT_COMPRESSOR_REEXPANSION, CT_COMPRESSOR_REEXPANSION, 2)));
        sheet_sum(s, "flow_at_stated_superheat", "Flow at the superheat of its rating",
                  "swept volume x share x density", M_MASS_FLOW, e->nominal.m, "# x # x #",
                  TERMS(sheet_term(s, M_DISPLACEMENT, c->flow),
                        sheet_term(s, M_NUMBER, e->comp.eta_v),
                        sheet_term(s, M_DENSITY, e->nominal.rho1)));
    } else {
        sheet_given(s, "flow_at_stated_superheat", "Flow at the superheat of its map", M_MASS_FLOW,
                    e->nominal.m);
    }
    sheet_sum(s, "refrigerant_flow", "Flow as it runs m_r",
              "flow x (1 + 0.75 (density / density at the rating - 1))", M_MASS_FLOW, b->m_r,
              "# x (1 + 0.75 x (# / # - 1))",
              TERMS(nominal, sheet_term(s, M_DENSITY, e->comp.rho1),
                    sheet_term(s, M_DENSITY, e->nominal.rho1)));
}

static void given_refrigerant(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const ct_compressor *c = &e->job->system.outdoor.compressor;
    sheet_given(s, "sat_suction", "Saturated suction at the compressor", M_TEMPERATURE, b->Te);
    sheet_given(s, "suction_pressure", "its pressure (refrigerant table)", M_PRESSURE,
                b->p_suction);
    sheet_given(s, "sat_discharge", "Saturated discharge", M_TEMPERATURE, b->Tc);
    sheet_given(s, "discharge_pressure", "its pressure (refrigerant table)", M_PRESSURE,
                b->p_discharge);
    if (c->kind == CT_COMPRESSOR_PHYSICAL)
        sheet_given(s, "swept_volume", "Volume the compressor sweeps", M_DISPLACEMENT, c->flow);
    sheet_given(s, "suction_density", "Density of the suction vapour", M_DENSITY, e->comp.rho1);
    sheet_given(s, "rated_density", "Density, had it the superheat of the rating", M_DENSITY,
                e->nominal.rho1);
    sheet_given(s, "coil_out_enthalpy", "Enthalpy leaving the coil h_r", M_ENTHALPY, e->h_out);
    sheet_given(s, "liquid_enthalpy", "Enthalpy of the liquid into the valve h_l", M_ENTHALPY,
                e->cond.h_liquid);
    sheet_given(s, "isentropic_rise", "Least work of compression, per mass", M_ENTHALPY,
                e->comp.eta * b->W / b->m_r);
    sheet_given(s, "compressor_efficiency", "Efficiency at this pressure ratio", M_NUMBER,
                e->comp.eta);
}

static void section_refrigerant(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const ct_outdoor *o = &e->job->system.outdoor;
    sheet_section(s, "4  THE REFRIGERANT");
    sheet_say(s, "The compressor swallows the same volume at every turn. What weighs in that "
                 "volume depends on the suction: warmer suction, denser vapour, more mass moved.");
    given_refrigerant(s, e);
    sum_flow(s, e);
    sheet_sum(
        s, "tube_saturation", "Saturation at the coil outlet",
        "saturated suction + loss of the suction line", M_TEMPERATURE, b->T_coil, "# + #",
        TERMS(sheet_term(s, M_TEMPERATURE, b->Te), sheet_term(s, M_DIFFERENCE, o->suction_drop)));
    sheet_sum(s, "refrigerant_heat", "Heat the refrigerant takes in the coil", "m_r (h_r - h_l)",
              M_HEAT, b->Q, "# x (# - #)",
              TERMS(sheet_term(s, M_MASS_FLOW, b->m_r), sheet_term(s, M_ENTHALPY, e->h_out),
                    sheet_term(s, M_ENTHALPY, e->cond.h_liquid)));
    sheet_sum(s, "compressor_power", "Compressor input", "m_r x least work / efficiency, in watts",
              M_ELECTRIC, b->W, "# x # / # / #",
              TERMS(sheet_term(s, M_MASS_FLOW, b->m_r),
                    sheet_term(s, M_ENTHALPY, e->comp.eta * b->W / b->m_r),
                    sheet_term(s, M_NUMBER, e->comp.eta), per_watt(s)));
    if (e->job->system.meter.kind != CT_METER_ORIFICE) return;
    if (b->quality_out < 1.0) {
        sheet_given(s, "vapour_share_out", "Vapour leaving the coil, share by mass", M_PERCENT,
                    b->quality_out);
        sheet_say(s, "The metering device is a fixed orifice and floods the coil: liquid leaves it "
                     "with the vapour. So much liquid that the denser suction lets the compressor "
                     "move just the flow the orifice passes.");
    } else {
        sheet_say(s, "The metering device is a fixed orifice: the superheat is the one at which it "
                     "passes just the flow the compressor moves.");
    }
}

/* ---- 5 The condenser ------------------------------------------------------------- */

static void section_condenser(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const double eps_C = ct_condenser_eps_C(&e->job->system.outdoor.condenser, e->job->indoor.p);
    sheet_section(s, "5  THE CONDENSER");
    sheet_say(s, "Outdoors must go what the coil took, what the suction line picked up and what "
                 "the compressor put in. The condenser can only push it out by being warmer than "
                 "the outdoor air; that sets the discharge pressure.");
    sheet_given(s, "line_heat", "Heat picked up by the suction line", M_HEAT, b->Q_line);
    sheet_given(s, "shell_heat", "Heat lost from the compressor's shell", M_HEAT, b->Q_shell);
    sheet_given(s, "outdoor_dry_bulb", "Outdoor air", M_TEMPERATURE, e->job->T_out);
    sheet_given(s, "condenser_conductance", "Condenser: heat per degree", M_CONDUCTANCE, eps_C);
    sheet_given(s, "condensing_temperature", "Mean condensing temperature", M_TEMPERATURE,
                e->cond.T_mid);
    sheet_sum(s, "heat_to_shed", "Heat to shed", "coil + line + compressor - shell", M_HEAT,
              b->Q_condenser, "# + # + # x # - #",
              TERMS(sheet_term(s, M_HEAT, b->Q), sheet_term(s, M_HEAT, b->Q_line),
                    sheet_term(s, M_ELECTRIC, b->W), per_watt(s),
                    sheet_term(s, M_HEAT, b->Q_shell)));
    sheet_sum(s, "heat_shed", "Heat the condenser sheds", "heat per degree x (t_cond - t_outdoor)",
              M_HEAT, b->Q_condenser, "# x (# - #)",
              TERMS(sheet_term(s, M_CONDUCTANCE, eps_C),
                    sheet_term(s, M_TEMPERATURE, e->cond.T_mid),
                    sheet_term(s, M_TEMPERATURE, e->job->T_out)));
}

/* ---- 6 Where the curves cross
 * ---------------------------------------------------------------------- */

static void sum_trial(sheet *s, const explained *e, double Te, const char *name, const char *label)
{
    ct_balance_trial t;
    char unit_name[48], coil_name[48], text[80];
    ct_fault fault;
    if (ct_balance_try(e->solver, &e->job->system, &e->at, Te, &t, &fault) != CT_OK ||
        !t.coil_can) {
        sheet_say(s, "At a suction of %s the plant cannot run at all: %s.",
                  sheet_show(s, M_TEMPERATURE, Te),
                  "the coil cannot make the superheat, or a table ends");
        return;
    }
    sheet_say(s, "%s, at a saturated suction of %s:", label, sheet_show(s, M_TEMPERATURE, Te));
    snprintf(unit_name, sizeof unit_name, "%s_unit", name);
    snprintf(coil_name, sizeof coil_name, "%s_coil", name);
    snprintf(text, sizeof text, "%s_excess", name);
    sheet_given(s, coil_name, "the coil gives", M_HEAT, t.Q_coil);
    sheet_given(s, unit_name, "the outdoor unit takes", M_HEAT, t.Q_unit);
    sheet_sum(s, text, "coil over outdoor unit", "gives - takes", M_HEAT,
              fabs(t.Q_coil - t.Q_unit) < 0.01 ? 0.0 : t.Q_coil - t.Q_unit, "# - #",
              TERMS(sheet_term(s, M_HEAT, t.Q_coil), sheet_term(s, M_HEAT, t.Q_unit)));
}

static void section_crossing(sheet *s, const explained *e)
{
    const double Te = e->point->balance.Te;
    sheet_section(s, "6  WHERE THE CURVES CROSS");
    sheet_say(s, "Both sides have been worked out at one suction temperature. Why that one? Try a "
                 "colder and a warmer one.");
    sum_trial(s, e, Te - TRIAL_STEP, "colder", "Colder");
    sum_trial(s, e, Te, "settled", "As it settles");
    sum_trial(s, e, Te + TRIAL_STEP, "warmer", "Warmer");
    sheet_say(s, "Too cold, and the coil boils more than the compressor takes away: vapour piles "
                 "up, the suction rises. Too warm, and the compressor takes more than the coil "
                 "boils: it pulls the suction down. It can only stay where both are equal.");
}

/* ---- 7 Net of the blower
 * ------------------------------------------------------------------------------ */

static void section_net(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const term P = sheet_term(s, M_ELECTRIC, e->point->P_blower),
               Qn = sheet_term(s, M_HEAT, b->Q_net), Qsn = sheet_term(s, M_HEAT, b->Q_sens_net);
    sheet_section(s, "7  NET OF THE BLOWER");
    sheet_say(s, "The blower's watts all end as heat in the same air, so the house gets less than "
                 "the coil takes. The water is not touched by it.");
    sheet_given(s, "blower_power", "Blower input P", M_ELECTRIC, e->point->P_blower);
    sheet_given(s, "fan_power", "Outdoor fan input", M_ELECTRIC, e->job->system.outdoor.P_fan);
    sheet_sum(s, "net_total", "Net total", "total - heat of the blower", M_HEAT, b->Q_net,
              "# - # x #", TERMS(sheet_term(s, M_HEAT, b->Q), P, per_watt(s)));
    sheet_sum(s, "net_sensible", "Net sensible", "sensible - heat of the blower", M_HEAT,
              b->Q_sens_net, "# - # x #", TERMS(sheet_term(s, M_HEAT, b->Q_sens), P, per_watt(s)));
    sheet_sum(s, "net_sensible_ratio", "Net sensible heat ratio", "net sensible / net total",
              M_NUMBER, b->SHR_net, "# / #", TERMS(Qsn, Qn));
    if (!e->job->system.before_coil)
        sheet_sum(s, "supply_dry_bulb", "Supply air", "t_out + heat of the blower / (m_a c_p)",
                  M_TEMPERATURE, b->supply.T, "# + # x # / (# x (# + # x # / #))",
                  TERMS(sheet_term(s, M_TEMPERATURE, b->out.T), P, per_watt(s),
                        sheet_term(s, M_MASS_FLOW, e->point->m_da), c_pa(s), c_pv(s),
                        sheet_term(s, M_MOISTURE, b->out.W), grains(s)));
    sheet_sum(s, "eer", "Heat moved per electricity",
              "net total / (compressor + blower + outdoor fan)", M_EER, b->EER,
              sheet_metric(s) ? "1000 x # / (# + # + #)" : "# / (# + # + #)",
              TERMS(Qn, sheet_term(s, M_ELECTRIC, b->W), P,
                    sheet_term(s, M_ELECTRIC, e->job->system.outdoor.P_fan)));
}

/* ---- 8 Against the load
 * ---------------------------------------------------------------------------------- */

static bool measure_of(quantity q, measure *m)
{
    switch (q) {
    case Q_HEAT: *m = M_HEAT; return true;
    case Q_TEMPERATURE: *m = M_TEMPERATURE; return true;
    case Q_DELTA_T: *m = M_DIFFERENCE; return true;
    case Q_STATIC: *m = M_STATIC; return true;
    case Q_VELOCITY: *m = M_VELOCITY; return true;
    case Q_FRACTION: *m = M_PERCENT; return true;
    case Q_AIRFLOW: *m = M_AIRFLOW; return true;
    default: return false;
    }
}

static void sum_limit(sheet *s, const explained *e, ct_limit limit)
{
    const ct_judgement *j = &e->point->limit[limit];
    const limit_words *w = limit_words_of(limit, e->point);
    measure value, slack;
    char name[64], label[120], formula[160];
    if (j->verdict == CT_NOT_JUDGED || !isfinite(j->value)) return;
    if (!measure_of(w->value, &value) || !measure_of(w->slack, &slack)) return;
    const bool at_least = fabs(j->value - j->bound - j->slack) <= 1e-9 * (1.0 + fabs(j->bound));
    const term a = sheet_term(s, value, j->value), b = sheet_term(s, value, j->bound);
    snprintf(name, sizeof name, "%s_room", w->token);
    snprintf(label, sizeof label, "%s, %s", ct_limit_name(limit),
             j->verdict == CT_PASSES ? "holds" : "FAILS");
    snprintf(formula, sizeof formula, at_least ? "%s - what is needed" : "what is allowed - %s",
             w->measured);
    sheet_sum(s, name, label, formula, slack, j->slack, "# - #",
              at_least ? TERMS(a, b) : TERMS(b, a));
}

static void say_settled(sheet *s, const explained *e)
{
    const ct_point *p = e->point;
    if (!p->has_room) return;
    sheet_say(s, "At part load the plant runs only for its share of the hour, and dries only while "
                 "it runs. With this airflow the house settles so:");
    if (p->room.always_on)
        sheet_say(s, "(At that load it runs the whole hour: no longer run is left to dry with.)");
    sheet_given(s, "run_share", "Share of the hour it runs", M_PERCENT, p->room.run);
    sheet_given(s, "settled_humidity", "Relative humidity of the house", M_PERCENT, p->room.rh);
}

static void section_load(sheet *s, const explained *e)
{
    const ct_house *h = &e->job->c->house;
    sheet_section(s, "8  AGAINST THE LOAD");
    sheet_sum(s, "sensible_asked", "Sensible capacity asked", "load x (1 + margin)", M_HEAT,
              h->Q_sensible * (1.0 + h->margin), "# x (1 + # / 100)",
              TERMS(sheet_term(s, M_HEAT, h->Q_sensible), sheet_term(s, M_PERCENT, h->margin)));
    for (int i = CT_LIMIT_BALANCE + 1; i < CT_LIMIT_COUNT; i++)
        sum_limit(s, e, (ct_limit)i);
    sheet_say(s, e->point->passes ? "Every limit that decides holds: this speed passes."
                                  : "This speed does not pass.");
    say_settled(s, e);
}

void explain_balance(sheet *s, const explained *e)
{
    section_air(s, e);
    section_airflow(s, e);
    section_coil(s, e);
    section_refrigerant(s, e);
    section_condenser(s, e);
    section_crossing(s, e);
    section_net(s, e);
    section_load(s, e);
}
