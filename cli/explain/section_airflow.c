#include "explain/sections.h"

#include "base/units.h"
#include "explain/terms.h"
#include "fluid/air.h"

static void sum_mass_of_standard(sheet *s, const explained *e)
{
    const ct_point *p = e->point;
    const double density = CT_STD_DENSITY * CT_M_PER_FT * CT_M_PER_FT * CT_M_PER_FT / CT_KG_PER_LBM;
    sheet_sum(
        s,
        &(sum_of){"standard_airflow", "Standard airflow", "airflow per ton x nominal tons",
                  M_AIRFLOW, p->V_std},
        "# x #",
        TERMS(sheet_term(s, M_PER_TON, p->V_std_per_ton),
              sheet_constant(s, e->job->system.outdoor.tons, e->job->system.outdoor.tons, 2)));
    sheet_sum(s,
              &(sum_of){"air_mass_flow", "Mass of dry air m_a",
                        sheet_metric(s) ? "standard airflow x standard density / 1000"
                                        : "standard airflow x standard density x 60",
                        M_MASS_FLOW, p->m_da},
              sheet_metric(s) ? "# x # / #" : "# x # x #",
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
    sheet_sum(s,
              &(sum_of){"air_mass_flow", "Mass of dry air m_a",
                        sheet_metric(s) ? "airflow / 1000 / volume" : "60 x airflow / volume",
                        M_MASS_FLOW, p->m_da},
              sheet_metric(s) ? "# / # / #" : "# x # / #",
              TERMS(sheet_term(s, M_AIRFLOW, p->V),
                    sheet_metric(s) ? sheet_constant(s, 0, 1000, 0) : sheet_constant(s, 60, 0, 0),
                    sheet_term(s, M_VOLUME, v)));
    sheet_sum(s,
              &(sum_of){"airflow_per_ton", "Standard airflow per nominal ton",
                        "mass flow / standard density / tons", M_PER_TON, p->V_std_per_ton},
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
    sheet_say(s, "The blower sits ahead of the coil, so its heat warms the air before the coil.");
    sheet_sum(s,
              &(sum_of){"entering_dry_bulb", "Air entering the coil",
                        "t + heat of the blower / (m_a c_p)", M_TEMPERATURE, p->balance.in.T},
              "# + # x # / (# x (# + # x # / #))",
              TERMS(sheet_term(s, M_TEMPERATURE, a->T), sheet_term(s, M_ELECTRIC, p->P_blower),
                    terms_per_watt(s), sheet_term(s, M_MASS_FLOW, p->m_da), terms_c_pa(s),
                    terms_c_pv(s), sheet_term(s, M_MOISTURE, a->W), terms_grains(s)));
    terms_enthalpy(s, "entering_enthalpy", "Its enthalpy h_in", &p->balance.in);
}

void section_airflow(sheet *s, const explained *e)
{
    const ct_air *a = &e->job->indoor;
    const double v = e->job->system.before_coil
                         ? ct_air_v(a->T, a->W, a->p)
                         : ct_air_v(e->point->balance.out.T, e->point->balance.out.W, a->p);
    sheet_numbered(s, "AIRFLOW TO MASS FLOW");
    sheet_say(s, "Heat is carried by mass, not by volume, so the airflow is first turned into "
                 "a mass of dry air. 'Standard' airflow is that mass written as a volume.");
    sheet_sum(s,
              &(sum_of){"return_volume", "Volume of the return air v",
                        "R (t + absolute zero) (1 + W / 0.622) / p", M_VOLUME,
                        ct_air_v(a->T, a->W, a->p)},
              "# x (# + #) x (1 + # / # / #) / #",
              TERMS(terms_gas_constant(s), sheet_term(s, M_TEMPERATURE, a->T),
                    terms_absolute_zero(s), sheet_term(s, M_MOISTURE, a->W), terms_grains(s),
                    sheet_constant(s, CT_AIR_EPS, CT_AIR_EPS, 3), sheet_term(s, M_PRESSURE, a->p)));
    if (e->point->tap >= 0)
        sum_mass_of_tap(s, e, v);
    else
        sum_mass_of_standard(s, e);
    if (e->job->system.before_coil) sum_heated_by_blower(s, e);
}
