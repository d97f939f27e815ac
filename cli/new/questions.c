#include "new/questions.h"

#include <stddef.h>

#define HEAT                                                                                       \
    {                                                                                              \
        "Btu/h", "kW"                                                                              \
    }
#define FLOW                                                                                       \
    {                                                                                              \
        "cfm", "m3/h"                                                                              \
    }
#define STATIC                                                                                     \
    {                                                                                              \
        "inwc", "Pa"                                                                               \
    }
#define DEGREES                                                                                    \
    {                                                                                              \
        "F", "C"                                                                                   \
    }
#define SAME(unit)                                                                                 \
    {                                                                                              \
        unit, unit                                                                                 \
    }

/* Others follow from `after`; what a key means and allows is in the table of keys. */
const question questions[] = {
    {.key = "outdoor.refrigerant", .asks = "Refrigerant on the outdoor nameplate"},
    {.key = "outdoor.tons",
     .asks = "Nominal tons of the outdoor unit",
     .unit = {"ton", "kW"},
     .unless = "outdoor.rated_capacity"},
    {.key = "outdoor.rated_load_amps",
     .asks = "Rated load amps of its compressor (RLA)",
     .unit = SAME("A"),
     .unless = "outdoor.tons|outdoor.rated_capacity"},
    {.key = "outdoor.volts",
     .asks = "Volts on the plate",
     .unit = SAME("V"),
     .usual = "230 V",
     .after = "outdoor.rated_load_amps"},
    {.key = "outdoor.rated_capacity", .asks = "Rated cooling capacity", .unit = HEAT},
    {.key = "outdoor.rated_seer", .asks = "SEER (or its EER, as 9.5 EER)", .unit = SAME("SEER")},
    {.key = "indoor.coil.size",
     .asks = "Size of the new coil: 1.35 is a third larger than the matched one; its tons, as 3.5 "
             "ton; or 'one size up'"},
    {.key = "indoor.metering.kind", .asks = "Metering device, TXV or piston", .usual = "valve"},
    {.key = "indoor.metering.bore",
     .asks = "Bore of the piston, or the number stamped on it, as 67",
     .unit = {"in", "mm"},
     .after = "indoor.metering.kind",
     .as = "piston|orifice"},
    {.key = "limits.furnace_output", .asks = "Output of the furnace under the coil", .unit = HEAT},
    {.key = "limits.furnace_rise_min",
     .asks = "Lowest temperature rise on the furnace plate",
     .unit = DEGREES,
     .after = "limits.furnace_output"},
    {.key = "limits.furnace_rise_max",
     .asks = "Highest temperature rise on the furnace plate",
     .unit = DEGREES,
     .after = "limits.furnace_output"},
    {.key = "limits.strip_power",
     .asks = "Electric heat on the blower, all strips",
     .unit = SAME("kW"),
     .unless = "limits.furnace_output"},
    {.key = "limits.heat_airflow",
     .asks = "Least airflow on the plate of the electric heat",
     .unit = FLOW,
     .after = "limits.strip_power"},
    {.key = "duct.static", .asks = "External static measured, supply plus return", .unit = STATIC},
    {.key = "duct.return_static",
     .asks = "Return side of it, if read apart",
     .unit = STATIC,
     .after = "duct.static"},
    {.key = TAPS_KEY,
     .asks = "Blower table at hand, yes or no",
     .usual = "no",
     .after = "duct.static"},
    {.key = "indoor.blower.motor",
     .asks = "Blower motor: psc, constant torque or constant airflow",
     .after = TAPS_KEY},
    {.key = "indoor.blower.static_limit",
     .asks = "Highest static on the blower's plate",
     .unit = STATIC,
     .after = TAPS_KEY},
    {.key = "indoor.blower.heat_tap", .asks = "Tap that heats", .after = TAPS_KEY},
    {.key = "duct.tap",
     .asks = "Tap in use when static was read, if this blower is the one that ran",
     .after = TAPS_KEY},
    {.key = "duct.heat_rise.rise",
     .asks = "Temperature rise through the heat, measured on the tap static was read on",
     .unit = DEGREES,
     .after = "limits.strip_power|limits.furnace_output"},
    {.key = "duct.airflow",
     .asks = "Airflow at that static",
     .unit = FLOW,
     .after = "duct.static",
     .unless = "duct.tap|duct.heat_rise.rise"},
    {.key = "house.sensible_load",
     .asks = "Sensible load of the house, if it was calculated",
     .unit = HEAT},
    {.key = "house.run_time.minutes",
     .asks = "Minutes of each hour the old system ran on a warm afternoon",
     .unit = SAME("min"),
     .unless = "house.sensible_load"},
    {.key = "house.run_time.outdoor",
     .asks = "Outdoors meanwhile",
     .unit = DEGREES,
     .after = "house.run_time.minutes"},
    {.key = "house.floor_area",
     .asks = "Floor area cooled, for a rule of thumb",
     .unit = {"ft2", "m2"},
     .unless = "house.sensible_load"},
    {.key = "house.climate",
     .asks = "Climate: humid, moderate or dry",
     .usual = "moderate",
     .after = "house.floor_area"},
    {.key = "house.latent_load",
     .asks = "Latent load of the house",
     .unit = HEAT,
     .unless = "house.run_time.minutes|house.floor_area"},
    {.key = "site.outdoor_dry_bulb", .asks = "Outdoors on the design day", .unit = DEGREES},
    {.key = "site.indoor_air.dry_bulb", .asks = "Indoors", .unit = DEGREES},
    {.key = "site.indoor_air.relative_humidity",
     .asks = "Relative humidity indoors",
     .unit = SAME("%")},
    {.key = "site.altitude",
     .asks = "Height above sea level",
     .unit = {"ft", "m"},
     .usual = "0 ft"},
};

const int n_questions = (int)(sizeof questions / sizeof questions[0]);
