#include "fluid/air.h"
#include "base/common_options.h"
#include "base/complain.h"
#include "show/answer.h"
#include "verbs.h"

enum { DRY_BULB, RH, WET_BULB, DEW_POINT, ALTITUDE, SI, JSON, OUTPUT, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [DRY_BULB] = {.name = "dry-bulb",
                  .kind = OPTION_VALUE,
                  .required = true,
                  .unit = CT_UNIT_TEMPERATURE,
                  .shows = "TEMP",
                  .help = "dry-bulb temperature"},
    [RH] = {.name = "rh",
            .kind = OPTION_VALUE,
            .unit = CT_UNIT_FRACTION,
            .shows = "RH",
            .help = "relative humidity, as \"50%\""},
    [WET_BULB] = {.name = "wet-bulb",
                  .kind = OPTION_VALUE,
                  .unit = CT_UNIT_TEMPERATURE,
                  .shows = "TEMP",
                  .help = "wet-bulb temperature"},
    [DEW_POINT] = {.name = "dew-point",
                   .kind = OPTION_VALUE,
                   .unit = CT_UNIT_TEMPERATURE,
                   .shows = "TEMP",
                   .help = "dew-point temperature"},
    [ALTITUDE] = {ALTITUDE_ROW("height above sea level, sets the barometric pressure")},
    [SI] = {SI_ROW("metric table; SI units in JSON")},
    [JSON] = {JSON_ROW("JSON instead of a table")},
    [OUTPUT] = {OUTPUT_FILE_ROW},
};

/* The state from whichever humidity reading was given; exactly one is. */
static ct_status read_state(const option_value *o, double p, ct_air *air, ct_fault *fault)
{
    const double T = o[DRY_BULB].si;
    if (o[RH].given) return ct_air_from_rh(T, o[RH].si, p, air, fault);
    if (o[WET_BULB].given) return ct_air_from_wet_bulb(T, o[WET_BULB].si, p, air, fault);
    return ct_air_from_dew_point(T, o[DEW_POINT].si, p, air, fault);
}

static exit_code write_state(const ct_air *air, double T_wb, double T_dp, const option_value *o)
{
    const double v = ct_air_v(air->T, air->W, air->p);
    const fact facts[] = {
        {"dry_bulb", "Dry bulb", Q_TEMPERATURE, air->T},
        {"wet_bulb", "Wet bulb", Q_TEMPERATURE, T_wb},
        {"dew_point", "Dew point", Q_TEMPERATURE, T_dp},
        {"relative_humidity", "Relative humidity", Q_FRACTION, ct_air_rh(air)},
        {"humidity_ratio", "Moisture per dry air", Q_MOISTURE, air->W},
        {"enthalpy", "Enthalpy per dry air", Q_ENTHALPY_AIR, ct_air_h(air->T, air->W)},
        {"volume", "Volume per dry air", Q_VOLUME, v},
        {"density", "Density of the moist air", Q_DENSITY, (1 + air->W) / v},
        {"altitude", "Altitude", Q_LENGTH, o[ALTITUDE].si},
        {"barometric_pressure", "Barometric pressure", Q_PRESSURE, air->p},
    };
    const fact_group group = {
        .heading = "", .facts = facts, .n = (int)(sizeof facts / sizeof facts[0])};
    const answer a = {.title = "Moist air", .groups = &group, .n_groups = 1};
    return answer_write(&a, o[JSON].given, o[SI].given, o[OUTPUT].text);
}

static exit_code run(const arguments *args)
{
    const option_value *o = args->option;
    const int n_humidity = o[RH].given + o[WET_BULB].given + o[DEW_POINT].given;
    if (n_humidity != 1) {
        complain("air: %d humidity readings given; give exactly one of --rh, --wet-bulb, "
                 "--dew-point",
                 n_humidity);
        return EXIT_USAGE;
    }
    ct_fault fault;
    ct_air air;
    double p, T_wb, T_dp;
    if (ct_air_pressure(o[ALTITUDE].si, &p, &fault) != CT_OK ||
        read_state(o, p, &air, &fault) != CT_OK || ct_air_wet_bulb(&air, &T_wb, &fault) != CT_OK ||
        ct_air_dew_point(&air, &T_dp, &fault) != CT_OK)
        return complain_fault(&fault);
    return write_state(&air, T_wb, T_dp, o);
}

const verb verb_air = {
    .name = "air",
    .purpose = "Properties of moist air from dry bulb and one humidity reading.",
    .operands = "",
    .too_many = "a reading goes behind its option, such as --dry-bulb 75F; put a value with a "
                "blank in quotes",
    .options = options,
    .n_options = N_OPTIONS,
    .details = "Give the dry bulb and exactly one of --rh, --wet-bulb and --dew-point. The\n"
               "inch-pound enthalpy counts dry air from 0 F, the metric one from 0 C, as their\n"
               "tables do.\n",
    .example = "  coiltrim air --dry-bulb \"80 F\" --wet-bulb \"67 F\" --altitude \"0 ft\"\n",
    .run = run,
};
