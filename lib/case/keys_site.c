#include "case/keys.h"

#include "case/case.h"
#include "case/key_rows.h"

#define AIR_KEYS(p, coldest, hottest)                                                              \
    {.path = p ".dry_bulb",                                                                        \
     TEMPERATURE(NUMBER, "75 F"),                                                                  \
     FROM(coldest, hottest),                                                                       \
     REQUIRED,                                                                                     \
     AT(ct_air_reading, T),                                                                        \
     HELP("dry bulb of this air")},                                                                \
        {.path = p ".relative_humidity",                                                           \
         FRACTION(MAYBE, "50 %"),                                                                  \
         FROM("0 %", "100 %"),                                                                     \
         ONE_OF("wet_bulb or dew_point"),                                                          \
         AT(ct_air_reading, rh),                                                                   \
         HELP("relative humidity of this air")},                                                   \
        {.path = p ".wet_bulb",                                                                    \
         TEMPERATURE(MAYBE, "63 F"),                                                               \
         FROM("20 F", "120 F"),                                                                    \
         ONE_OF("relative_humidity or dew_point"),                                                 \
         AT(ct_air_reading, T_wb),                                                                 \
         HELP("wet bulb of this air")},                                                            \
    {                                                                                              \
        .path = p ".dew_point", TEMPERATURE(MAYBE, "55 F"), FROM("-20 F", "120 F"),                \
        ONE_OF("relative_humidity or wet_bulb"), AT(ct_air_reading, T_dp),                         \
        HELP("dew point of this air")                                                              \
    }

static const ct_key rows[] = {
    {.path = "job",
     SECTION(offsetof(ct_case, job)),
     ALWAYS,
     HELP("shown on the job page; any text")},
    {.path = "job.title", TEXT(CT_TEXT_SIZE), OPTIONAL, AT(ct_job, title), HELP("title")},
    {.path = "job.customer", TEXT(CT_TEXT_SIZE), OPTIONAL, AT(ct_job, customer), HELP("customer")},
    {.path = "job.address", TEXT(CT_TEXT_SIZE), OPTIONAL, AT(ct_job, address), HELP("address")},
    {.path = "job.technician",
     TEXT(CT_TEXT_SIZE),
     OPTIONAL,
     AT(ct_job, technician),
     HELP("technician")},
    {.path = "job.date", TEXT(CT_TEXT_SIZE), OPTIONAL, AT(ct_job, date), HELP("date, as text")},
    {.path = "job.notes",
     .type = CT_KEY_NOTES,
     .size = CT_TEXT_SIZE,
     .unit_text = "text, several lines",
     OPTIONAL,
     AT(ct_job, notes),
     HELP("notes")},

    {.path = "site",
     SECTION(offsetof(ct_case, site)),
     REQUIRED,
     HELP("altitude, design weather, return air, ducts")},
    {.path = "site.altitude",
     LENGTH(NUMBER, "1200 ft"),
     FROM("-1500 ft", "16000 ft"),
     DEFAULT("0 ft", "sea level; air gets about 3 % thinner per 1000 ft"),
     AT(ct_site, altitude),
     HELP("height above sea level")},
    {.path = "site.outdoor_dry_bulb",
     TEMPERATURE(NUMBER, "95 F"),
     FROM("60 F", "130 F"),
     REQUIRED,
     AT(ct_site, T_outdoor),
     HELP("design day, dry bulb at the condenser")},
    {.path = "site.outdoor_humidity",
     FRACTION(MAYBE, "40 %"),
     FROM("0 %", "100 %"),
     OPTIONAL,
     AT(ct_site, rh_outdoor),
     HELP("relative humidity outdoors; needed with house.infiltration")},
    {.path = "site.duct_insulation",
     WHAT(NUMBER, R_VALUE, "insulation, R-6"),
     FROM("R-0", "R-30"),
     DEFAULT("R-6", "flexible duct as sold; " PRACTICE),
     AT(ct_site, duct_R),
     HELP("insulation of the supply duct")},
    {.path = "site.indoor_air",
     SECTION(offsetof(ct_site, indoor)),
     REQUIRED,
     HELP("return air at the coil")},
    AIR_KEYS("site.indoor_air", "40 F", "130 F"),
    {.path = "site.around_duct",
     MARKED(offsetof(ct_site, around_duct), offsetof(ct_site, has_around_duct)),
     OPTIONAL,
     HELP("air around the supply duct: attic, crawl space")},
    AIR_KEYS("site.around_duct", "20 F", "155 F"),

    {.path = "house", SECTION(offsetof(ct_case, house)), REQUIRED, HELP("load of the house")},
    {.path = "house.sensible_load",
     POWER(NUMBER, "24000 Btu/h"),
     FROM("500 Btu/h", "240000 Btu/h"),
     REQUIRED,
     AT(ct_house, Q_sensible),
     HELP("design sensible load")},
    {.path = "house.latent_load",
     POWER(NUMBER, "4500 Btu/h"),
     FROM("0 Btu/h", "120000 Btu/h"),
     REQUIRED,
     AT(ct_house, Q_latent),
     HELP("design latent load")},
    {.path = "house.margin",
     FRACTION(NUMBER, "5 %"),
     FROM("0 %", "50 %"),
     DEFAULT("0 %", "the load is taken as calculated"),
     AT(ct_house, margin),
     HELP("added to the sensible load")},
    {.path = "house.infiltration",
     AIRFLOW(MAYBE, "60 cfm"),
     FROM("0 cfm", "1000 cfm"),
     OPTIONAL,
     AT(ct_house, infiltration),
     HELP("outdoor air leaking in, not already in latent_load")},
    {.path = "house.humidity_ceiling",
     FRACTION(MAYBE, "60 %"),
     FROM("30 %", "80 %"),
     OPTIONAL,
     AT(ct_house, rh_ceiling),
     HELP("highest relative humidity the customer accepts")},
    {.path = "house.humidity_load",
     FRACTION(NUMBER, "60 %"),
     FROM("20 %", "120 %"),
     DEFAULT("60 %", "a mild, damp hour: part of the sensible load, all of the latent; " PRACTICE),
     AT(ct_house, humidity_load),
     HELP("part of sensible_load at which the humidity of the house is checked")},
    {.path = "house.balance_temperature",
     TEMPERATURE(MAYBE, "68 F"),
     FROM("40 F", "85 F"),
     OPTIONAL,
     AT(ct_house, T_balance),
     HELP("outdoor temperature at which the house needs no cooling")},
    {.path = "house.fan_on",
     YESNO,
     DEFAULT("no", "fan switch on automatic; " PRACTICE),
     AT(ct_house, fan_on),
     HELP("blower runs on between compressor cycles")},
    {.path = "house.fan_off_delay",
     TIME(MAYBE, "60 s"),
     FROM("0 s", "600 s"),
     OPTIONAL,
     AT(ct_house, fan_off_delay),
     HELP("blower run-on after the compressor stops")},
};

const ct_key_rows ct_keys_site = {rows, (int)(sizeof rows / sizeof rows[0])};
