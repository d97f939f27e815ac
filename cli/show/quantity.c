#include "show/quantity.h"

#include <math.h>

#include "base/units.h"
#include "fluid/air.h"

/* Derived from the exact factors of units.h. */
#define FT3_PER_M3 (1.0 / (CT_M_PER_FT * CT_M_PER_FT * CT_M_PER_FT))
#define J_PER_KG_PER_BTU_LB 2326.0 /* exact: International Table Btu per pound */
#define BTU_PER_WH (1.0 / CT_W_PER_BTUH)
#define GRAINS_PER_LB 7000.0 /* exact by definition */
#define DEGREES_PER_RAD (180.0 / 3.14159265358979323846)
#define ZERO_C 273.15
#define ZERO_F 459.67
/* Inch-pound psychrometric tables (ASHRAE Fundamentals ch. 1) count dry air from 0 F, SI ones from
 * 0 C; the water counts from its freezing point in both. */
#define AIR_0F_TO_0C (CT_AIR_CPA * 32.0 / CT_F_PER_K / J_PER_KG_PER_BTU_LB)

typedef struct {
    quantity_form people_ip, people_metric, program_ip, program_si;
} quantity_row;

static const quantity_row rows[Q_COUNT_] = {
    [Q_PLAIN] = {{"", 1, 0, 3}, {"", 1, 0, 3}, {"", 1, 0, 0}, {"", 1, 0, 0}},
    [Q_FRACTION] = {{"%", 100, 0, 1}, {"%", 100, 0, 1}, {"", 1, 0, 0}, {"", 1, 0, 0}},
    [Q_TEMPERATURE] = {{"F", CT_F_PER_K, -ZERO_F, 1},
                       {"C", 1, -ZERO_C, 1},
                       {"f", CT_F_PER_K, -ZERO_F, 0},
                       {"k", 1, 0, 0}},
    [Q_DELTA_T] = {{"F", CT_F_PER_K, 0, 1},
                   {"K", 1, 0, 1},
                   {"f", CT_F_PER_K, 0, 0},
                   {"k", 1, 0, 0}},
    [Q_HEAT] = {{"Btu/h", 1 / CT_W_PER_BTUH, 0, 0},
                {"kW", 1e-3, 0, 2},
                {"btuh", 1 / CT_W_PER_BTUH, 0, 0},
                {"w", 1, 0, 0}},
    [Q_ELECTRIC] = {{"W", 1, 0, 0}, {"W", 1, 0, 0}, {"watts", 1, 0, 0}, {"w", 1, 0, 0}},
    [Q_EER] = {{"Btu/Wh", BTU_PER_WH, 0, 2},
               {"W/W", 1, 0, 2},
               {"btu_per_wh", BTU_PER_WH, 0, 0},
               {"w_per_w", 1, 0, 0}},
    [Q_PRESSURE] = {{"psia", 1 / CT_PA_PER_PSI, 0, 1},
                    {"kPa absolute", 1e-3, 0, 1},
                    {"psia", 1 / CT_PA_PER_PSI, 0, 0},
                    {"pa", 1, 0, 0}},
    [Q_PRESSURE_GAUGE] = {{"psig", 1 / CT_PA_PER_PSI, 0, 1},
                          {"kPa gauge", 1e-3, 0, 1},
                          {"psig", 1 / CT_PA_PER_PSI, 0, 0},
                          {"gauge_pa", 1, 0, 0}},
    [Q_STATIC] = {{"inwc", 1 / CT_PA_PER_INWC, 0, 2},
                  {"Pa", 1, 0, 0},
                  {"inwc", 1 / CT_PA_PER_INWC, 0, 0},
                  {"pa", 1, 0, 0}},
    [Q_AIRFLOW] = {{"cfm", 1 / CT_M3S_PER_CFM, 0, 0},
                   {"L/s", 1e3, 0, 0},
                   {"cfm", 1 / CT_M3S_PER_CFM, 0, 0},
                   {"m3_per_s", 1, 0, 0}},
    [Q_AIRFLOW_PER_TON] = {{"cfm/ton", 1 / CT_M3S_PER_CFM, 0, 0},
                           {"L/s per ton", 1e3, 0, 0},
                           {"cfm_per_ton", 1 / CT_M3S_PER_CFM, 0, 0},
                           {"m3_per_s_per_ton", 1, 0, 0}},
    [Q_VELOCITY] = {{"ft/min", 60 / CT_M_PER_FT, 0, 0},
                    {"m/s", 1, 0, 2},
                    {"fpm", 60 / CT_M_PER_FT, 0, 0},
                    {"m_per_s", 1, 0, 0}},
    [Q_LENGTH] = {{"ft", 1 / CT_M_PER_FT, 0, 0},
                  {"m", 1, 0, 0},
                  {"ft", 1 / CT_M_PER_FT, 0, 0},
                  {"m", 1, 0, 0}},
    [Q_SIZE] = {{"in", 1 / CT_M_PER_IN, 0, 2},
                {"mm", 1e3, 0, 1},
                {"in", 1 / CT_M_PER_IN, 0, 0},
                {"m", 1, 0, 0}},
    [Q_ANGLE] = {{"degrees", DEGREES_PER_RAD, 0, 0},
                 {"degrees", DEGREES_PER_RAD, 0, 0},
                 {"deg", DEGREES_PER_RAD, 0, 0},
                 {"rad", 1, 0, 0}},
    [Q_MOISTURE] = {{"gr/lb", GRAINS_PER_LB, 0, 1},
                    {"g/kg", 1e3, 0, 2},
                    {"lb_per_lb", 1, 0, 0},
                    {"kg_per_kg", 1, 0, 0}},
    [Q_WATER_RATE] = {{"lb/h", 3600 / CT_KG_PER_LBM, 0, 2},
                      {"kg/h", 3600, 0, 2},
                      {"lb_per_h", 3600 / CT_KG_PER_LBM, 0, 0},
                      {"kg_per_s", 1, 0, 0}},
    [Q_RUN] = {{"min/h", 60, 0, 1}, {"min/h", 60, 0, 1}, {"", 1, 0, 0}, {"", 1, 0, 0}},
    [Q_WATER_DAY] = {{"lb/day", 1 / CT_KG_PER_LBM, 0, 1},
                     {"kg/day", 1, 0, 1},
                     {"lb_per_day", 1 / CT_KG_PER_LBM, 0, 0},
                     {"kg_per_day", 1, 0, 0}},
    [Q_BORE] = {{"in", 1 / CT_M_PER_IN, 0, 4},
                {"mm", 1e3, 0, 3},
                {"in", 1 / CT_M_PER_IN, 0, 0},
                {"m", 1, 0, 0}},
    [Q_PRESSURE_DROP] = {{"psi", 1 / CT_PA_PER_PSI, 0, 1},
                         {"kPa", 1e-3, 0, 0},
                         {"psi", 1 / CT_PA_PER_PSI, 0, 0},
                         {"pa", 1, 0, 0}},
    [Q_ENTHALPY_AIR] = {{"Btu/lb", 1 / J_PER_KG_PER_BTU_LB, AIR_0F_TO_0C, 2},
                        {"kJ/kg", 1e-3, 0, 2},
                        {"btu_per_lb", 1 / J_PER_KG_PER_BTU_LB, AIR_0F_TO_0C, 0},
                        {"j_per_kg", 1, 0, 0}},
    [Q_VOLUME] = {{"ft3/lb", FT3_PER_M3 *CT_KG_PER_LBM, 0, 3},
                  {"m3/kg", 1, 0, 4},
                  {"ft3_per_lb", FT3_PER_M3 *CT_KG_PER_LBM, 0, 0},
                  {"m3_per_kg", 1, 0, 0}},
    [Q_DENSITY] = {{"lb/ft3", 1 / (FT3_PER_M3 * CT_KG_PER_LBM), 0, 4},
                   {"kg/m3", 1, 0, 3},
                   {"lb_per_ft3", 1 / (FT3_PER_M3 * CT_KG_PER_LBM), 0, 0},
                   {"kg_per_m3", 1, 0, 0}},
};

const quantity_form *quantity_for_people(quantity q, bool metric)
{
    return metric ? &rows[q].people_metric : &rows[q].people_ip;
}

const quantity_form *quantity_for_programs(quantity q, bool si)
{
    return si ? &rows[q].program_si : &rows[q].program_ip;
}

double quantity_show(const quantity_form *form, double v)
{
    return v * form->factor + form->offset;
}

void quantity_key(char *key, size_t size, const char *name, quantity q, bool si)
{
    const char *unit = quantity_for_programs(q, si)->unit;
    snprintf(key, size, "%s%s%s", name, unit[0] ? "_" : "", unit);
}

void facts_table(FILE *out, const fact *facts, int n, bool metric)
{
    for (int i = 0; i < n; i++) {
        const quantity_form *form = quantity_for_people(facts[i].q, metric);
        const double half_step = 0.5 * pow(10, -form->decimals);
        double shown = quantity_show(form, facts[i].v);
        if (fabs(shown) < half_step) shown = 0; /* never "-0.0" */
        fprintf(out, "  %-34s%10.*f %s\n", facts[i].label, form->decimals, shown, form->unit);
    }
}

bool put_number(json_t *object, const char *name, quantity q, double v, bool si)
{
    char key[96];
    quantity_key(key, sizeof key, name, q, si);
    json_t *number = json_real(quantity_show(quantity_for_programs(q, si), v));
    return number && json_object_set_new(object, key, number) == 0;
}

bool facts_json(json_t *object, const fact *facts, int n, bool si)
{
    for (int i = 0; i < n; i++)
        if (!put_number(object, facts[i].name, facts[i].q, facts[i].v, si)) return false;
    return true;
}
