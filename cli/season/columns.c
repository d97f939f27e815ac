#include "season/columns.h"

#include <math.h>
#include <string.h>

/* Hours and kWh are the same in both systems. */
const season_column season_columns[SEASON_COLUMNS] = {
    {"airflow_standard", Q_AIRFLOW},
    {"hours", Q_PLAIN},
    {"hours_with_load", Q_PLAIN},
    {"hours_counted", Q_PLAIN},
    {"run_hours", Q_PLAIN},
    {"energy_kwh", Q_PLAIN},
    {"cost", Q_PLAIN},
    {"hours_short", Q_PLAIN},
    {"heat_short_kwh", Q_PLAIN},
    {"cooling_kwh", Q_PLAIN},
    {"efficiency", Q_EER},
    {"hours_above_50", Q_PLAIN},
    {"hours_above_55", Q_PLAIN},
    {"hours_above_60", Q_PLAIN},
    {"hours_above_65", Q_PLAIN},
    {"rh_mean", Q_FRACTION},
    {"rh_highest", Q_FRACTION},
    {"hours_outside_table", Q_PLAIN},
    {"hours_in_fog", Q_PLAIN},
};

/* What a house whose humidity is not known says nothing of. */
static bool is_humidity(int column)
{
    const char *name = season_columns[column].name;
    return strncmp(name, "hours_above_", 12) == 0 || strncmp(name, "rh_", 3) == 0 ||
           strcmp(name, "hours_in_fog") == 0;
}

double season_column_value(const season_result *r, const season_speed *s, int column)
{
    const ct_season_total *t = &s->total;
    const double v[SEASON_COLUMNS] = {s->point->V_std,
                                      t->hours,
                                      t->cooling,
                                      t->counted,
                                      t->run,
                                      t->energy / J_PER_KWH,
                                      season_cost(r, s),
                                      t->hours_short,
                                      t->heat_short / J_PER_KWH,
                                      t->Q / J_PER_KWH,
                                      season_efficiency(s),
                                      t->above[0],
                                      t->above[1],
                                      t->above[2],
                                      t->above[3],
                                      t->rh_mean,
                                      t->rh_max,
                                      t->held,
                                      t->saturated};
    if (is_humidity(column) && !season_knows_humidity(r)) return (double)NAN;
    return column == 0 || s->status == CT_OK ? v[column] : (double)NAN;
}
