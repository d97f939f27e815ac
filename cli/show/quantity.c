#include "show/quantity.h"

#include <math.h>

#include "show/units_shown.h"

/* What people see in inch-pound and in metric with its decimals, what programs read in each. */
typedef struct {
    quantity_form people_ip, people_metric, program_ip, program_si;
} quantity_row;

static const quantity_row rows[Q_COUNT_] = {
    [Q_PLAIN] = {{UNIT_NONE, 3}, {UNIT_NONE, 3}, {UNIT_NONE, 0}, {UNIT_NONE, 0}},
    [Q_FRACTION] = {{UNIT_PERCENT, 1}, {UNIT_PERCENT, 1}, {UNIT_NONE, 0}, {UNIT_NONE, 0}},
    [Q_TEMPERATURE] = {{UNIT_F, 1}, {UNIT_C, 1}, {UNIT_F, 0}, {UNIT_K, 0}},
    [Q_DELTA_T] = {{UNIT_DELTA_F, 1}, {UNIT_K, 1}, {UNIT_DELTA_F, 0}, {UNIT_K, 0}},
    [Q_HEAT] = {{UNIT_BTUH, 0}, {UNIT_KW, 2}, {UNIT_BTUH, 0}, {UNIT_W, 0}},
    [Q_ELECTRIC] = {{UNIT_WATTS, 0}, {UNIT_W, 0}, {UNIT_WATTS, 0}, {UNIT_W, 0}},
    [Q_EER] = {{UNIT_BTU_WH, 1}, {UNIT_W_W, 2}, {UNIT_BTU_WH, 0}, {UNIT_W_W, 0}},
    [Q_PRESSURE] = {{UNIT_PSIA, 1}, {UNIT_KPA_ABSOLUTE, 1}, {UNIT_PSIA, 0}, {UNIT_PA, 0}},
    [Q_PRESSURE_GAUGE] = {{UNIT_PSIG, 1}, {UNIT_KPA_GAUGE, 1}, {UNIT_PSIG, 0}, {UNIT_PA_GAUGE, 0}},
    [Q_STATIC] = {{UNIT_INWC, 2}, {UNIT_PA, 0}, {UNIT_INWC, 0}, {UNIT_PA, 0}},
    [Q_AIRFLOW] = {{UNIT_CFM, 0}, {UNIT_L_S, 0}, {UNIT_CFM, 0}, {UNIT_M3_S, 0}},
    [Q_AIRFLOW_PER_TON] = {{UNIT_CFM_TON, 0},
                           {UNIT_L_S_TON, 0},
                           {UNIT_CFM_TON, 0},
                           {UNIT_M3_S_TON, 0}},
    [Q_VELOCITY] = {{UNIT_FT_MIN, 0}, {UNIT_M_S, 2}, {UNIT_FT_MIN, 0}, {UNIT_M_S, 0}},
    [Q_LENGTH] = {{UNIT_FT, 0}, {UNIT_M, 0}, {UNIT_FT, 0}, {UNIT_M, 0}},
    [Q_SIZE] = {{UNIT_IN, 2}, {UNIT_MM, 1}, {UNIT_IN, 0}, {UNIT_M, 0}},
    [Q_ANGLE] = {{UNIT_DEGREE, 0}, {UNIT_DEGREE, 0}, {UNIT_DEGREE, 0}, {UNIT_RAD, 0}},
    [Q_MOISTURE] = {{UNIT_GR_LB, 1}, {UNIT_G_KG, 2}, {UNIT_LB_LB, 0}, {UNIT_KG_KG, 0}},
    [Q_WATER_RATE] = {{UNIT_LB_H, 2}, {UNIT_KG_H, 2}, {UNIT_LB_H, 0}, {UNIT_KG_S, 0}},
    [Q_RUN] = {{UNIT_MIN_H, 1}, {UNIT_MIN_H, 1}, {UNIT_NONE, 0}, {UNIT_NONE, 0}},
    [Q_WATER_DAY] = {{UNIT_LB_DAY, 1}, {UNIT_KG_DAY, 1}, {UNIT_LB_DAY, 0}, {UNIT_KG_DAY, 0}},
    [Q_BORE] = {{UNIT_IN, 4}, {UNIT_MM, 3}, {UNIT_IN, 0}, {UNIT_M, 0}},
    [Q_PRESSURE_DROP] = {{UNIT_PSI, 1}, {UNIT_KPA, 0}, {UNIT_PSI, 0}, {UNIT_PA, 0}},
    [Q_ENTHALPY_AIR] = {{UNIT_BTU_LB_AIR, 2},
                        {UNIT_KJ_KG, 2},
                        {UNIT_BTU_LB_AIR, 0},
                        {UNIT_J_KG, 0}},
    [Q_VOLUME] = {{UNIT_FT3_LB, 3}, {UNIT_M3_KG, 4}, {UNIT_FT3_LB, 0}, {UNIT_M3_KG, 0}},
    [Q_DENSITY] = {{UNIT_LB_FT3, 4}, {UNIT_KG_M3, 3}, {UNIT_LB_FT3, 0}, {UNIT_KG_M3, 0}},
};

const quantity_form *quantity_for_people(quantity q, bool metric)
{
    return metric ? &rows[q].people_metric : &rows[q].people_ip;
}

const quantity_form *quantity_for_programs(quantity q, bool si)
{
    return si ? &rows[q].program_si : &rows[q].program_ip;
}

const char *quantity_ending(quantity q, bool si)
{
    return quantity_for_programs(q, si)->ending;
}

quantity quantity_of_kind(ct_unit_kind kind)
{
    switch (kind) {
    case CT_UNIT_TEMPERATURE: return Q_TEMPERATURE;
    case CT_UNIT_DELTA_T: return Q_DELTA_T;
    case CT_UNIT_FRACTION: return Q_FRACTION;
    default: return Q_PLAIN;
    }
}

double quantity_show(const quantity_form *form, double v)
{
    return v * form->factor + form->offset;
}

void quantity_key(char *key, size_t size, const char *name, quantity q, bool si)
{
    const char *ending = quantity_ending(q, si);
    snprintf(key, size, "%s%s%s", name, ending[0] ? "_" : "", ending);
}

void quantity_facts_print(FILE *out, const fact *facts, int n, bool metric)
{
    for (int i = 0; i < n; i++) {
        const quantity_form *form = quantity_for_people(facts[i].q, metric);
        const double half_step = 0.5 * pow(10, -form->decimals);
        double shown = quantity_show(form, facts[i].v);
        if (fabs(shown) < half_step) shown = 0; /* never "-0.0" */
        fprintf(out, "  %-34s%10.*f%s%s\n", facts[i].label, form->decimals, shown,
                ct_units_gap(form->unit), form->unit);
    }
}

bool put_number(json_t *object, const char *name, quantity q, double v, bool si)
{
    char key[96];
    quantity_key(key, sizeof key, name, q, si);
    json_t *number = json_real(quantity_show(quantity_for_programs(q, si), v));
    return number && json_object_set_new(object, key, number) == 0;
}

bool quantity_facts_put(json_t *object, const fact *facts, int n, bool si)
{
    for (int i = 0; i < n; i++)
        if (!put_number(object, facts[i].name, facts[i].q, facts[i].v, si)) return false;
    return true;
}
