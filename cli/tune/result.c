#include "tune/result.h"

quantity tune_quantity(ct_reading_kind kind)
{
    switch (kind) {
    case CT_RETURN_RH:
    case CT_SUPPLY_RH: return Q_FRACTION;
    case CT_SUCTION_PRESSURE:
    case CT_LIQUID_PRESSURE: return Q_PRESSURE_GAUGE;
    case CT_STATIC: return Q_STATIC;
    case CT_AIRFLOW: return Q_AIRFLOW;
    case CT_COMPRESSOR_POWER:
    case CT_OUTDOOR_POWER:
    case CT_BLOWER_POWER: return Q_ELECTRIC;
    case CT_SUPERHEAT:
    case CT_SUBCOOLING:
    case CT_SPLIT: return Q_DELTA_T;
    case CT_CONDENSATE: return Q_WATER_RATE;
    default: return Q_TEMPERATURE;
    }
}
