#include "metering/columns.h"

#include <math.h>
#include <string.h>

static const metering_column columns[METERING_COLUMNS] = {
    {"superheat", Q_DELTA_T, offsetof(ct_balance, superheat)},
    {"quality_out", Q_FRACTION, offsetof(ct_balance, quality_out)},
    {"net_total", Q_HEAT, offsetof(ct_balance, Q_net)},
    {"net_sensible", Q_HEAT, offsetof(ct_balance, Q_sens_net)},
    {"net_latent", Q_HEAT, offsetof(ct_balance, Q_lat)},
    {"sat_suction", Q_TEMPERATURE, offsetof(ct_balance, Te)},
    {"sat_discharge", Q_TEMPERATURE, offsetof(ct_balance, Tc)},
    {"eer", Q_EER, offsetof(ct_balance, EER)},
};

const metering_column *metering_column_at(int i)
{
    return &columns[i];
}

double metering_value(int i, const ct_study_point *p)
{
    double v = NAN;
    if (p->status == CT_OK) memcpy(&v, (const char *)&p->balance + columns[i].offset, sizeof v);
    return v;
}
