#include "case/keys.h"

#include <stdio.h>
#include <string.h>

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

#define GEOMETRY_KEYS(p)                                                                           \
    {.path = p ".face_area",                                                                       \
     AREA(NUMBER, "4.5 ft2"),                                                                      \
     FROM("0.5 ft2", "30 ft2"),                                                                    \
     REQUIRED,                                                                                     \
     AT(ct_coil_geometry, face),                                                                   \
     HELP("finned face of all slabs together")},                                                   \
        {.path = p ".rows",                                                                        \
         NUMBER(WHOLE, "3"),                                                                       \
         FROM("1", "8"),                                                                           \
         REQUIRED,                                                                                 \
         AT(ct_coil_geometry, rows),                                                               \
         HELP("tube rows in the direction of the air")},                                           \
        {.path = p ".fin_spacing",                                                                 \
         WHAT(NUMBER, FIN_DENSITY, "fin spacing, 14 fins/in"),                                     \
         FROM("6 fins/in", "30 fins/in"),                                                          \
         REQUIRED,                                                                                 \
         AT(ct_coil_geometry, fin_pitch),                                                          \
         HELP("fins to the inch, or their pitch in mm")},                                          \
        {.path = p ".fin_thickness",                                                               \
         LENGTH(NUMBER, "0.0045 in"),                                                              \
         FROM("0.002 in", "0.02 in"),                                                              \
         DEFAULT("0.0045 in", "usual fin stock; " PRACTICE),                                       \
         AT(ct_coil_geometry, fin_thick),                                                          \
         HELP("thickness of the fin stock")},                                                      \
        {.path = p ".fin_conductivity",                                                            \
         WHAT(NUMBER, CONDUCTIVITY, "conductivity, 220 W/mK"),                                     \
         FROM("20 W/mK", "420 W/mK"),                                                              \
         DEFAULT("220 W/mK", "aluminium fin alloy; from memory"),                                  \
         AT(ct_coil_geometry, fin_k),                                                              \
         HELP("conductivity of the fins")},                                                        \
        {.path = p ".tube_diameter",                                                               \
         LENGTH(NUMBER, "0.375 in"),                                                               \
         FROM("0.15 in", "1 in"),                                                                  \
         REQUIRED,                                                                                 \
         AT(ct_coil_geometry, tube_od),                                                            \
         HELP("outside diameter of the tubes")},                                                   \
        {.path = p ".tube_wall",                                                                   \
         LENGTH(NUMBER, "0.012 in"),                                                               \
         FROM("0.005 in", "0.1 in"),                                                               \
         DEFAULT("0.012 in", "usual copper coil tube; " PRACTICE),                                 \
         AT(ct_coil_geometry, tube_wall),                                                          \
         HELP("wall of the tubes")},                                                               \
        {.path = p ".tube_spacing",                                                                \
         LENGTH(NUMBER, "1 in"),                                                                   \
         FROM("0.3 in", "3 in"),                                                                   \
         DEFAULT("1 in", "usual for 3/8 in tube; " PRACTICE),                                      \
         AT(ct_coil_geometry, pitch_t),                                                            \
         HELP("from tube to tube across the air")},                                                \
        {.path = p ".row_spacing",                                                                 \
         LENGTH(NUMBER, "0.866 in"),                                                               \
         FROM("0.3 in", "3 in"),                                                                   \
         DEFAULT("0.866 in", "staggered rows of 1 in spacing; " PRACTICE),                         \
         AT(ct_coil_geometry, pitch_l),                                                            \
         HELP("from row to row along the air")},                                                   \
        {.path = p ".circuits",                                                                    \
         NUMBER(WHOLE, "4"),                                                                       \
         FROM("1", "60"),                                                                          \
         REQUIRED,                                                                                 \
         AT(ct_coil_geometry, circuits),                                                           \
         HELP("parallel refrigerant paths")},                                                      \
    {                                                                                              \
        .path = p ".fin_shape", CHOICE("plain|wavy|louvred_wavy"),                                 \
        DEFAULT("wavy", "most residential coils; " PRACTICE), AT(ct_coil_geometry, fin),           \
        HELP("form of the fins between the tubes")                                                 \
    }

static const ct_key rows[] = {
    {.path = "job", SECTION(offsetof(ct_case, job)), ALWAYS, HELP("for the job page; any text")},
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

    {.path = "site", SECTION(offsetof(ct_case, site)), REQUIRED, HELP("place and weather")},
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
     HELP("asked on top of the sensible load")},
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
     HELP("share of sensible_load at which the settled humidity is judged")},
    {.path = "house.balance_temperature",
     TEMPERATURE(MAYBE, "68 F"),
     FROM("40 F", "85 F"),
     OPTIONAL,
     AT(ct_house, T_balance),
     HELP("outdoor temperature of no sensible load")},
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

    {.path = "outdoor", SECTION(offsetof(ct_case, outdoor)), REQUIRED, HELP("the outdoor unit")},
    {.path = "outdoor.refrigerant",
     .type = CT_KEY_WORD,
     .size = CT_NAME_SIZE,
     .words = "R-22|R-410A|R-407C|R-32",
     .unit_text = "word",
     .allowed_text = "R-22|R-410A|R-407C|R-32",
     REQUIRED,
     AT(ct_outdoor_unit, refrigerant),
     HELP("what the unit is charged with")},
    {.path = "outdoor.tons",
     WHAT(NUMBER, TONS, "nominal size, 3 ton"),
     FROM("0.5 ton", "20 ton"),
     REQUIRED,
     AT(ct_outdoor_unit, tons),
     HELP("nominal size; airflow per ton counts these tons")},
    {.path = "outdoor.rated_capacity",
     POWER(NUMBER, "35000 Btu/h"),
     FROM("6000 Btu/h", "240000 Btu/h"),
     REQUIRED,
     AT(ct_outdoor_unit, Q_net),
     HELP("net total capacity at 95 F outdoors, 80/67 F indoors, with the matched coil")},
    {.path = "outdoor.rated_eer",
     EER(NUMBER, "10.5 Btu/Wh"),
     FROM("4 Btu/Wh", "20 Btu/Wh"),
     ONE_OF("rated_seer"),
     AT(ct_outdoor_unit, EER),
     HELP("efficiency at the same conditions")},
    {.path = "outdoor.rated_seer",
     .type = CT_KEY_ONLY,
     .unit = CT_UNIT_EER,
     .unit_text = "efficiency, 13 Btu/Wh",
     FROM("6 Btu/Wh", "26 Btu/Wh"),
     ONE_OF("rated_eer"),
     HELP("seasonal efficiency; turned into an assumed rated_eer")},
    {.path = "outdoor.rated_airflow",
     AIRFLOW(NUMBER, "1200 cfm"),
     FROM("150 cfm", "10000 cfm"),
     DERIVED("400 cfm/ton", "400 standard cfm per nominal ton; " PRACTICE),
     AT(ct_outdoor_unit, V_rated_std),
     HELP("indoor airflow at the rating, standard air")},
    {.path = "outdoor.rated_blower_power",
     POWER(NUMBER, "450 W"),
     FROM("0 W", "4000 W"),
     DERIVED("365 W per 1000 cfm", "365 W per 1000 standard cfm, coil-only default of 10 CFR 430 "
                                   "appendix M; from memory"),
     AT(ct_outdoor_unit, P_blower_rated),
     HELP("blower input counted in the rating")},
    {.path = "outdoor.fan_power",
     POWER(NUMBER, "220 W"),
     FROM("20 W", "3000 W"),
     DERIVED("70 W/ton", "70 W per nominal ton; " PRACTICE),
     AT(ct_outdoor_unit, P_fan),
     HELP("outdoor fan input")},
    {.path = "outdoor.rated_sensible_ratio",
     FRACTION(NUMBER, "75 %"),
     FROM("55 %", "95 %"),
     DERIVED("75 % at 400 cfm/ton",
             "0.70 to 0.80 as a rule, 0.53 points more per 10 cfm/ton; " PRACTICE),
     AT(ct_outdoor_unit, SHR_rated),
     HELP("gross sensible share at the rating")},
    {.path = "outdoor.rated_saturated_suction",
     TEMPERATURE(NUMBER, "45 F"),
     FROM("30 F", "58 F"),
     DEFAULT("45 F", "usual at the rating; " PRACTICE),
     AT(ct_outdoor_unit, T_suction_rated),
     HELP("saturated (dew) suction temperature at the rating")},
    {.path = "outdoor.rated_saturated_discharge",
     TEMPERATURE(NUMBER, "118 F"),
     FROM("102 F", "140 F"),
     DERIVED("115 F newer, 120 F older",
             "95 F plus 20 F for a newer, 25 F for an older unit; " PRACTICE),
     AT(ct_outdoor_unit, T_discharge_rated),
     HELP("saturated (dew) discharge temperature at the rating")},
    {.path = "outdoor.vintage",
     .type = CT_KEY_ONLY,
     .words = "newer|older",
     .unit_text = "word",
     .allowed_text = "newer|older",
     DERIVED("by refrigerant",
             "R-22 counts as older, others as newer; R-22 left new units in 2010"),
     HELP("condenser of a newer or an older unit, for rated_saturated_discharge")},
    {.path = "outdoor.rated_superheat",
     DELTA_T(NUMBER, "10 F"),
     FROM("1 F", "30 F"),
     DEFAULT("10 F", "usual at the coil outlet; " PRACTICE),
     AT(ct_outdoor_unit, superheat_rated),
     HELP("superheat at the coil outlet at the rating")},
    {.path = "outdoor.subcooling",
     DELTA_T(NUMBER, "10 F"),
     FROM("0 F", "30 F"),
     DEFAULT("10 F", "usual charge; " PRACTICE),
     AT(ct_outdoor_unit, subcooling),
     HELP("liquid subcooling the unit is charged to")},
    {.path = "outdoor.suction_line_drop",
     DELTA_T(NUMBER, "2 F"),
     FROM("0 F", "10 F"),
     DEFAULT("2 F", "line sized to lose no more than 2 F; " PRACTICE),
     AT(ct_outdoor_unit, suction_drop),
     HELP("saturation temperature lost in the suction line")},
    {.path = "outdoor.suction_line_gain",
     DELTA_T(NUMBER, "0 F"),
     FROM("0 F", "30 F"),
     DEFAULT("0 F", "insulated short line"),
     AT(ct_outdoor_unit, suction_gain),
     HELP("superheat gained in the suction line")},
    {.path = "outdoor.degradation",
     NUMBER(NUMBER, "0.25"),
     FROM("0", "0.5"),
     DEFAULT("0.25", "default of AHRI 210/240 before 2017; from memory"),
     AT(ct_outdoor_unit, CD),
     HELP("cyclic degradation coefficient of the seasonal efficiency formula")},
    {.path = "outdoor.compressor_map",
     MARKED(0, CT_NO_MARK),
     OPTIONAL,
     HELP("ten-coefficient map of AHRI 540, in F, lbm/h and W, if you have one")},
    {.path = "outdoor.compressor_map.mass_flow",
     .type = CT_KEY_NUMBERS,
     .max = 10,
     .unit_text = "ten numbers",
     REQUIRED,
     AT(ct_outdoor_unit, map_m),
     HELP("lbm/h: C1 to C10 of the standard, saturated temperatures in F")},
    {.path = "outdoor.compressor_map.power",
     .type = CT_KEY_NUMBERS,
     .max = 10,
     .unit_text = "ten numbers",
     REQUIRED,
     AT(ct_outdoor_unit, map_W),
     HELP("W: C1 to C10 of the standard, saturated temperatures in F")},
    {.path = "outdoor.compressor_map.superheat",
     DELTA_T(NUMBER, "20 F"),
     FROM("0 F", "60 F"),
     DEFAULT("20 F", "usual superheat of published maps; from memory"),
     AT(ct_outdoor_unit, map_superheat),
     HELP("superheat the map was measured at")},

    {.path = "matched_coil",
     MARKED(offsetof(ct_case, matched), offsetof(ct_case, has_matched_geometry)),
     OPTIONAL,
     HELP("the coil the outdoor unit was rated with, when both coils are given by geometry")},
    GEOMETRY_KEYS("matched_coil"),

    {.path = "duct",
     MARKED(offsetof(ct_case, duct), offsetof(ct_case, has_duct)),
     OPTIONAL,
     HELP("one measured point of the duct system; needed with a tap table")},
    {.path = "duct.static",
     PRESSURE(NUMBER, "0.62 inwc"),
     FROM("0.02 inwc", "3 inwc"),
     REQUIRED,
     AT(ct_duct, dp),
     HELP("external static measured")},
    {.path = "duct.airflow",
     AIRFLOW(NUMBER, "1050 cfm"),
     FROM("100 cfm", "10000 cfm"),
     REQUIRED,
     AT(ct_duct, V),
     HELP("airflow at that static")},
    {.path = "duct.exponent",
     NUMBER(NUMBER, "2"),
     FROM("1.7", "2.1"),
     DEFAULT("2", "turbulent duct flow; " PRACTICE),
     AT(ct_duct, exponent),
     HELP("static grows with airflow to this power")},
    {.path = "duct.old_coil_drop",
     PRESSURE(NUMBER, "0.2 inwc"),
     FROM("0 inwc", "2 inwc"),
     DEFAULT("0 inwc", "no coil stood inside the measured span"),
     AT(ct_duct, dp_coil_out),
     HELP("drop of the old coil when it stood inside the measured span")},
    {.path = "duct.coil_exponent",
     NUMBER(NUMBER, "1.7"),
     FROM("1.3", "2"),
     DEFAULT("1.7", "wet fin coil; " PRACTICE),
     AT(ct_duct, coil_exponent),
     HELP("coil drop grows with airflow to this power")},

    {.path = "indoor",
     SECTION(offsetof(ct_case, indoor)),
     REQUIRED,
     HELP("the indoor unit in question")},
    {.path = "indoor.name",
     TEXT(CT_NAME_SIZE),
     DERIVED("indoor unit", ""),
     AT(ct_indoor_unit, name),
     HELP("short name for plots and tables; required in candidates")},
    {.path = "indoor.price",
     NUMBER(MAYBE, "1850"),
     FROM("0", "1000000"),
     OPTIONAL,
     AT(ct_indoor_unit, price),
     HELP("price, in your own currency")},
    {.path = "indoor.labour",
     NUMBER(MAYBE, "900"),
     FROM("0", "1000000"),
     OPTIONAL,
     AT(ct_indoor_unit, labour),
     HELP("labour to install it, same currency")},
    {.path = "indoor.duct_work",
     NUMBER(MAYBE, "350"),
     FROM("0", "1000000"),
     OPTIONAL,
     AT(ct_indoor_unit, duct_work),
     HELP("duct and cabinet changes it needs, same currency")},
    {.path = "indoor.eer_label",
     EER(MAYBE, "11 Btu/Wh"),
     FROM("4 Btu/Wh", "25 Btu/Wh"),
     OPTIONAL,
     AT(ct_indoor_unit, EER_label),
     HELP("efficiency its sticker or listing claims")},
    {.path = "indoor.coil", SECTION(offsetof(ct_indoor_unit, coil)), ALWAYS, HELP("its coil")},
    {.path = "indoor.coil.size",
     NUMBER(NUMBER, "1.35"),
     FROM("0.4", "3"),
     DERIVED("1", "a matched coil"),
     AT(ct_coil_spec, size),
     HELP("heat transfer area relative to the matched coil, when no geometry is given")},
    {.path = "indoor.coil.growth",
     CHOICE("face|depth"),
     DERIVED("face", "a larger coil has more face, not more rows; " PRACTICE),
     AT(ct_coil_spec, growth),
     HELP("how it differs in size: more face, or more rows")},
    {.path = "indoor.coil.circuits",
     NUMBER(MAYBE, "1.35"),
     FROM("0.2", "5"),
     OPTIONAL,
     AT(ct_coil_spec, circuits),
     HELP("parallel refrigerant paths relative to the matched coil")},
    {.path = "indoor.coil.face_area",
     AREA(MAYBE, "4.5 ft2"),
     FROM("0.5 ft2", "30 ft2"),
     OPTIONAL,
     AT(ct_coil_spec, face),
     HELP("face, for moisture carry-over, when no geometry is given")},
    {.path = "indoor.coil.wet_drop",
     PRESSURE(MAYBE, "0.25 inwc"),
     FROM("0.01 inwc", "2 inwc"),
     OPTIONAL,
     AT(ct_coil_spec, dp_wet),
     HELP("its own air-side drop, wet, at wet_drop_airflow")},
    {.path = "indoor.coil.wet_drop_airflow",
     AIRFLOW(MAYBE, "1200 cfm"),
     FROM("100 cfm", "10000 cfm"),
     OPTIONAL,
     AT(ct_coil_spec, V_dp),
     HELP("airflow that wet_drop was measured at")},
    {.path = "indoor.coil.design_pressure",
     GAUGE(MAYBE, "450 psig"),
     FROM("100 psig", "1000 psig"),
     OPTIONAL,
     AT(ct_coil_spec, p_design),
     HELP("design (working) pressure stated on the coil")},
    {.path = "indoor.coil.refrigerant",
     TEXT(CT_NAME_SIZE),
     OPTIONAL,
     AT(ct_coil_spec, refrigerant),
     HELP("refrigerant it is made for")},
    {.path = "indoor.coil.geometry",
     MARKED(offsetof(ct_coil_spec, geometry), offsetof(ct_coil_spec, has_geometry)),
     OPTIONAL,
     HELP("instead of size; needs matched_coil as well")},
    GEOMETRY_KEYS("indoor.coil.geometry"),
    {.path = "indoor.metering",
     SECTION(offsetof(ct_indoor_unit, meter)),
     ALWAYS,
     HELP("its metering device")},
    {.path = "indoor.metering.kind",
     CHOICE("valve|orifice"),
     DEFAULT("valve", "a thermostatic expansion valve; " PRACTICE),
     AT(ct_meter_spec, kind),
     HELP("valve: thermostatic (TXV) or electronic; orifice: a piston")},
    {.path = "indoor.metering.superheat",
     DELTA_T(NUMBER, "10 F"),
     FROM("1.8 F", "27 F"),
     DERIVED("10 F", "valve setting of 8 to 12 F; " PRACTICE),
     AT(ct_meter_spec, superheat),
     HELP("superheat at the coil outlet that the valve holds")},
    {.path = "indoor.metering.rated_capacity",
     POWER(MAYBE, "3 ton"),
     FROM("3000 Btu/h", "300000 Btu/h"),
     OPTIONAL,
     AT(ct_meter_spec, Q_rated),
     HELP("rated capacity of the valve")},
    {.path = "indoor.metering.rated_drop",
     PRESSURE(MAYBE, "160 psi"),
     FROM("20 psi", "400 psi"),
     OPTIONAL,
     AT(ct_meter_spec, dp_rated),
     HELP("pressure drop the valve was rated at")},
    {.path = "indoor.metering.refrigerant",
     TEXT(CT_NAME_SIZE),
     OPTIONAL,
     AT(ct_meter_spec, refrigerant),
     HELP("refrigerant the valve is made for")},
    {.path = "indoor.metering.bore",
     LENGTH(MAYBE, "0.067 in"),
     FROM("0.02 in", "0.137 in"),
     NEEDED_WITH("kind: orifice"),
     AT(ct_meter_spec, bore),
     HELP("diameter of the orifice")},
    {.path = "indoor.metering.length",
     LENGTH(NUMBER, "0.5 in"),
     FROM("0.12 in", "1.57 in"),
     DERIVED("0.5 in", "usual piston; " PRACTICE),
     AT(ct_meter_spec, length),
     HELP("length of the orifice")},
    {.path = "indoor.metering.distributor_drop",
     PRESSURE(NUMBER, "25 psi"),
     FROM("0 psi", "100 psi"),
     DEFAULT("25 psi", "distributor and its tubes together; " PRACTICE),
     AT(ct_meter_spec, dp_distributor),
     HELP("pressure lost between the device and the coil")},
    {.path = "indoor.blower",
     SECTION(offsetof(ct_indoor_unit, blower)),
     ALWAYS,
     HELP("its blower")},
    {.path = "indoor.blower.motor",
     CHOICE("psc|constant_torque|constant_airflow"),
     NEEDED_WITH("taps"),
     AT(ct_blower, motor),
     HELP("permanent split capacitor, constant torque or constant airflow (both ECM)")},
    {.path = "indoor.blower.position",
     .type = CT_KEY_ONLY,
     .words = "before_coil|after_coil",
     .unit_text = "word",
     .allowed_text = "before_coil|after_coil",
     DERIVED("after_coil", "air handlers draw through the coil; " PRACTICE),
     HELP("before_coil for a furnace under a cased coil")},
    {.path = "indoor.blower.power",
     POWER(NUMBER, "450 W"),
     FROM("0 W", "4000 W"),
     DERIVED("365 W per 1000 cfm", "365 W per 1000 standard cfm, coil-only default of 10 CFR 430 "
                                   "appendix M; from memory"),
     .offset = offsetof(ct_indoor_unit, P_blower_default) - offsetof(ct_indoor_unit, blower),
     HELP("blower input at the rated airflow, when there is no tap table")},
    {.path = "indoor.blower.static_limit",
     PRESSURE(NUMBER, "0.8 inwc"),
     FROM("0.1 inwc", "2 inwc"),
     NEEDED_WITH("taps"),
     AT(ct_blower, dp_max),
     HELP("highest external static its maker allows")},
    {.path = "indoor.blower.table_includes_coil",
     YESNO,
     DERIVED("yes after_coil, no before_coil",
             "air handler tables include their coil, furnace tables do not; " PRACTICE),
     AT(ct_blower, table_includes_coil),
     HELP("taps were measured with this coil in place")},
    {.path = "indoor.blower.taps",
     .type = CT_KEY_LIST,
     OPTIONAL,
     AT(ct_blower, tap),
     .size = sizeof(ct_tap),
     .mark = offsetof(ct_blower, n_taps),
     .max = CT_MAX_TAPS,
     .item = "indoor.blower.taps[]",
     .unit_text = "list",
     .allowed_text = "1 to 10 taps",
     HELP("speed taps with the airflow each one moves")},
    {.path = "indoor.blower.taps[].name",
     TEXT(CT_NAME_SIZE),
     REQUIRED,
     AT(ct_tap, name),
     HELP("name of the tap, such as medium")},
    {.path = "indoor.blower.taps[].points",
     .type = CT_KEY_LINE,
     REQUIRED,
     AT(ct_tap, point),
     .size = sizeof(ct_tap_point),
     .mark = offsetof(ct_tap, n),
     .max = CT_MAX_TAP_POINTS,
     .item = "indoor.blower.taps[].points[]",
     .unit_text = "list of [static, airflow, power]",
     .allowed_text = "1 to 12 points",
     HELP("points of the tap, static rising")},
    {.path = "indoor.blower.taps[].points[].static",
     PRESSURE(NUMBER, "0.5 inwc"),
     FROM("0 inwc", "2 inwc"),
     REQUIRED,
     AT(ct_tap_point, dp),
     HELP("external static")},
    {.path = "indoor.blower.taps[].points[].airflow",
     AIRFLOW(NUMBER, "1210 cfm"),
     FROM("50 cfm", "10000 cfm"),
     REQUIRED,
     AT(ct_tap_point, V),
     HELP("airflow there")},
    {.path = "indoor.blower.taps[].points[].power",
     POWER(NUMBER, "480 W"),
     FROM("5 W", "4000 W"),
     REQUIRED,
     AT(ct_tap_point, P),
     HELP("blower motor input there")},
    {.path = "indoor.cabinet",
     MARKED(offsetof(ct_indoor_unit, cabinet),
            offsetof(ct_indoor_unit, cabinet) + offsetof(ct_cabinet, has)),
     OPTIONAL,
     HELP("its cabinet, for the way in")},
    {.path = "indoor.cabinet.width",
     LENGTH(NUMBER, "21 in"),
     FROM("5 in", "80 in"),
     REQUIRED,
     AT(ct_cabinet, width),
     HELP("width")},
    {.path = "indoor.cabinet.depth",
     LENGTH(NUMBER, "22 in"),
     FROM("5 in", "80 in"),
     REQUIRED,
     AT(ct_cabinet, depth),
     HELP("depth")},
    {.path = "indoor.cabinet.height",
     LENGTH(NUMBER, "54 in"),
     FROM("5 in", "120 in"),
     REQUIRED,
     AT(ct_cabinet, height),
     HELP("height")},
    {.path = "indoor.cabinet.sections",
     NUMBER(WHOLE, "2"),
     FROM("1", "4"),
     DEFAULT("1", "one piece"),
     AT(ct_cabinet, sections),
     HELP("pieces it splits into along its height")},
    {.path = "indoor.cabinet.section_height",
     LENGTH(NUMBER, "30 in"),
     FROM("5 in", "120 in"),
     DERIVED("height", "one piece"),
     AT(ct_cabinet, section_height),
     HELP("height of the tallest piece; required when sections is above 1")},
    {.path = "indoor.cabinet.upright_only",
     YESNO,
     DEFAULT("no",
             "its papers may forbid it: look them up; most can also lie on a side; " PRACTICE),
     AT(ct_cabinet, upright_only),
     HELP("may not be installed lying on its side")},
    {.path = "indoor.cabinet.filter",
     LENGTH(MAYBE, "20 in"),
     FROM("2 in", "80 in"),
     OPTIONAL,
     AT(ct_cabinet, filter),
     HELP("length of the filter as it is drawn out of the front")},
    {.path = "indoor.cabinet.drain_outlet",
     LENGTH(MAYBE, "3 in"),
     FROM("0 in", "120 in"),
     OPTIONAL,
     AT(ct_cabinet, drain_outlet),
     HELP("drain connection above the base, as it will be installed")},

    {.path = "candidates",
     .type = CT_KEY_LIST,
     OPTIONAL,
     .offset = offsetof(ct_case, indoor) + sizeof(ct_indoor_unit),
     .size = sizeof(ct_indoor_unit),
     .mark = offsetof(ct_case, n_indoor),
     .max = CT_MAX_INDOOR - 1,
     .item = "indoor",
     .unit_text = "list",
     .allowed_text = "1 to 5 units",
     HELP("further indoor units to compare, each with the keys of indoor")},

    {.path = "way_in",
     .type = CT_KEY_LIST,
     OPTIONAL,
     AT(ct_case, opening),
     .size = sizeof(ct_opening),
     .mark = offsetof(ct_case, n_openings),
     .max = CT_MAX_OPENINGS,
     .item = "way_in[]",
     .unit_text = "list",
     .allowed_text = "1 to 8 narrow places",
     HELP("narrow places the cabinet is carried through, in their order; clear sizes")},
    {.path = "way_in[].kind",
     CHOICE("door|hatch|corner"),
     REQUIRED,
     AT(ct_opening, kind),
     HELP("door: upright hole, window or corridor too; hatch: level hole; corner: right-angle "
          "turn")},
    {.path = "way_in[].name",
     TEXT(CT_NAME_SIZE),
     DERIVED("its kind and place in the list", ""),
     AT(ct_opening, name),
     HELP("what you call it")},
    {.path = "way_in[].width",
     LENGTH(NUMBER, "32 in"),
     FROM("5 in", "400 in"),
     REQUIRED,
     AT(ct_opening, width),
     HELP("clear width; of a corner: of the corridor you come from")},
    {.path = "way_in[].height",
     LENGTH(NUMBER, "80 in"),
     FROM("5 in", "400 in"),
     NEEDED_WITH("kind: door, corner"),
     AT(ct_opening, height),
     HELP("clear height; of a corner: the lowest ceiling in the turn")},
    {.path = "way_in[].run",
     LENGTH(MAYBE, "48 in"),
     FROM("5 in", "4000 in"),
     OPTIONAL,
     AT(ct_opening, run),
     HELP("door: straight clear length behind it, when there is a wall")},
    {.path = "way_in[].width_after",
     LENGTH(NUMBER, "36 in"),
     FROM("5 in", "400 in"),
     NEEDED_WITH("kind: corner"),
     AT(ct_opening, width_after),
     HELP("corner: clear width of the corridor you turn into")},
    {.path = "way_in[].length",
     LENGTH(NUMBER, "30 in"),
     FROM("5 in", "400 in"),
     NEEDED_WITH("kind: hatch"),
     AT(ct_opening, length),
     HELP("hatch: its other side")},
    {.path = "way_in[].headroom",
     LENGTH(NUMBER, "48 in"),
     FROM("5 in", "400 in"),
     NEEDED_WITH("kind: hatch"),
     AT(ct_opening, headroom),
     HELP("hatch: lowest roof over its top edge where the load swings")},
    {.path = "way_in[].frame",
     LENGTH(NUMBER, "9 in"),
     FROM("0 in", "60 in"),
     DERIVED("0 in", "a thin ceiling"),
     AT(ct_opening, frame),
     HELP("hatch: depth of the framed shaft under its top edge")},

    {.path = "space",
     MARKED(offsetof(ct_case, space), offsetof(ct_case, space) + offsetof(ct_space, has)),
     OPTIONAL,
     HELP("where the unit is to stand, clear sizes")},
    {.path = "space.width",
     LENGTH(NUMBER, "40 in"),
     FROM("5 in", "4000 in"),
     REQUIRED,
     AT(ct_space, width),
     HELP("clear width")},
    {.path = "space.depth",
     LENGTH(NUMBER, "60 in"),
     FROM("5 in", "4000 in"),
     REQUIRED,
     AT(ct_space, depth),
     HELP("clear depth, from the side it is serviced from")},
    {.path = "space.height",
     LENGTH(NUMBER, "84 in"),
     FROM("5 in", "4000 in"),
     REQUIRED,
     AT(ct_space, height),
     HELP("clear height")},
    {.path = "space.front",
     LENGTH(NUMBER, "0 in"),
     FROM("0 in", "120 in"),
     DEFAULT("0 in", "none asked for; the papers of the unit tell"),
     AT(ct_space, front),
     HELP("to be kept free before the unit's front, for service")},
    {.path = "space.back",
     LENGTH(NUMBER, "0 in"),
     FROM("0 in", "120 in"),
     DEFAULT("0 in", "none asked for; the papers of the unit tell"),
     AT(ct_space, back),
     HELP("to be kept free behind it")},
    {.path = "space.left",
     LENGTH(NUMBER, "0 in"),
     FROM("0 in", "120 in"),
     DEFAULT("0 in", "none asked for; the papers of the unit tell"),
     AT(ct_space, left),
     HELP("to be kept free on its left")},
    {.path = "space.right",
     LENGTH(NUMBER, "0 in"),
     FROM("0 in", "120 in"),
     DEFAULT("0 in", "none asked for; the papers of the unit tell"),
     AT(ct_space, right),
     HELP("to be kept free on its right")},
    {.path = "space.above",
     LENGTH(NUMBER, "0 in"),
     FROM("0 in", "120 in"),
     DEFAULT("0 in", "none asked for; the papers of the unit tell"),
     AT(ct_space, above),
     HELP("above its top: plenum, duct turn")},
    {.path = "space.below",
     LENGTH(NUMBER, "0 in"),
     FROM("0 in", "120 in"),
     DEFAULT("0 in", "none asked for; the papers of the unit tell"),
     AT(ct_space, below),
     HELP("below its base: stand, return box")},
    {.path = "space.drain_run",
     LENGTH(MAYBE, "20 ft"),
     FROM("0 ft", "300 ft"),
     OPTIONAL,
     AT(ct_space, drain_run),
     HELP("length of the condensate line")},
    {.path = "space.drain_end",
     LENGTH(NUMBER, "0 in"),
     FROM("-400 in", "400 in"),
     DERIVED("0 in", "as high as the base the unit stands on"),
     AT(ct_space, drain_end),
     HELP("height of the far end of that line over the base; below it is negative")},

    {.path = "sweep", SECTION(offsetof(ct_case, sweep)), ALWAYS, HELP("airflows to look at")},
    {.path = "sweep.from",
     WHAT(NUMBER, AIRFLOW_PER_TON, "airflow per ton, 250 cfm/ton"),
     FROM("100 cfm/ton", "700 cfm/ton"),
     DEFAULT("250 cfm/ton", "below the usual 350 to 400 cfm/ton; " PRACTICE),
     AT(ct_sweep_range, V_per_ton_min),
     HELP("lowest airflow, standard air per nominal ton")},
    {.path = "sweep.to",
     WHAT(NUMBER, AIRFLOW_PER_TON, "airflow per ton, 500 cfm/ton"),
     FROM("100 cfm/ton", "700 cfm/ton"),
     DEFAULT("500 cfm/ton", "above the usual 350 to 400 cfm/ton; " PRACTICE),
     AT(ct_sweep_range, V_per_ton_max),
     HELP("highest airflow, standard air per nominal ton")},
    {.path = "sweep.points",
     NUMBER(WHOLE, "51"),
     FROM("2", "501"),
     DEFAULT("51", "fine enough for smooth curves"),
     AT(ct_sweep_range, points),
     HELP("airflows in the range, both ends included")},

    {.path = "limits", SECTION(offsetof(ct_case, limits)), ALWAYS, HELP("what a point must keep")},
    {.path = "limits.frost_guard",
     DELTA_T(NUMBER, "2 F"),
     FROM("0 F", "15 F"),
     DEFAULT("2 F", "band for unequal circuits; " PRACTICE),
     AT(ct_limits, frost_guard),
     HELP("coldest surface stays this far above 32 F")},
    {.path = "limits.face_velocity",
     WHAT(NUMBER, VELOCITY, "velocity, 500 fpm"),
     FROM("100 fpm", "1000 fpm"),
     DEFAULT("500 fpm", "moisture carry-over from wet fin coils; " PRACTICE),
     AT(ct_limits, V_face_max),
     HELP("highest face velocity")},
    {.path = "limits.saturated_discharge",
     TEMPERATURE(NUMBER, "145 F"),
     FROM("110 F", "155 F"),
     DEFAULT("145 F", "upper edge of residential compressors; " PRACTICE),
     AT(ct_limits, T_discharge_max),
     HELP("highest saturated discharge temperature")},
    {.path = "limits.sweat_guard",
     DELTA_T(NUMBER, "0 F"),
     FROM("0 F", "15 F"),
     DEFAULT("0 F", "sweating begins at the dew point itself"),
     AT(ct_limits, sweat_guard),
     HELP("duct jacket stays this far above the dew point around it")},
    {.path = "limits.heat_airflow",
     AIRFLOW(MAYBE, "900 cfm"),
     FROM("100 cfm", "10000 cfm"),
     OPTIONAL,
     AT(ct_limits, V_heat_min),
     HELP("least airflow for the electric heat")},
    {.path = "limits.furnace_output",
     POWER(MAYBE, "64000 Btu/h"),
     FROM("5000 Btu/h", "300000 Btu/h"),
     OPTIONAL,
     AT(ct_limits, Q_furnace),
     HELP("heat output of a furnace on this blower")},
    {.path = "limits.furnace_rise_min",
     DELTA_T(MAYBE, "35 F"),
     FROM("5 F", "120 F"),
     NEEDED_WITH("furnace_output"),
     AT(ct_limits, dT_furnace_min),
     HELP("lowest temperature rise on its nameplate")},
    {.path = "limits.furnace_rise_max",
     DELTA_T(MAYBE, "65 F"),
     FROM("5 F", "120 F"),
     NEEDED_WITH("furnace_output"),
     AT(ct_limits, dT_furnace_max),
     HELP("highest temperature rise on its nameplate")},

    {.path = "uncertainty",
     SECTION(offsetof(ct_case, uncertainty)),
     ALWAYS,
     HELP("how far off the inputs may be, one standard deviation each; used on request only")},
    {.path = "uncertainty.load",
     FRACTION(NUMBER, "10 %"),
     FROM("0 %", "20 %"),
     DERIVED("10 %", "one standard deviation; " PRACTICE),
     AT(ct_uncertainty, load),
     HELP("of both design loads, together")},
    {.path = "uncertainty.rated_capacity",
     FRACTION(NUMBER, "3 %"),
     FROM("0 %", "20 %"),
     DERIVED("3 %", "one standard deviation; " PRACTICE),
     AT(ct_uncertainty, capacity),
     HELP("of the rated capacity")},
    {.path = "uncertainty.rated_eer",
     FRACTION(NUMBER, "3 %"),
     FROM("0 %", "20 %"),
     DERIVED("3 %", "one standard deviation; " PRACTICE),
     AT(ct_uncertainty, EER),
     HELP("of the rated efficiency")},
    {.path = "uncertainty.rated_sensible_ratio",
     FRACTION(NUMBER, "2 %"),
     FROM("0 %", "10 %"),
     DERIVED("2 %", "one standard deviation; " PRACTICE),
     AT(ct_uncertainty, SHR),
     HELP("of the rated sensible ratio, in points: 2 % is 0.02")},
    {.path = "uncertainty.duct_static",
     FRACTION(NUMBER, "10 %"),
     FROM("0 %", "20 %"),
     DERIVED("10 %", "one standard deviation; " PRACTICE),
     AT(ct_uncertainty, duct_static),
     HELP("of the static measured")},
    {.path = "uncertainty.indoor_humidity",
     FRACTION(NUMBER, "3 %"),
     FROM("0 %", "10 %"),
     DERIVED("3 %", "one standard deviation; " PRACTICE),
     AT(ct_uncertainty, rh_indoor),
     HELP("of the return air, in points of relative humidity")},
    {.path = "uncertainty.outdoor_dry_bulb",
     DELTA_T(NUMBER, "2 F"),
     FROM("0 F", "10 F"),
     DERIVED("2 F", "one standard deviation; " PRACTICE),
     AT(ct_uncertainty, T_outdoor),
     HELP("of the outdoor temperature")},
    {.path = "uncertainty.coil_conductance",
     FRACTION(NUMBER, "10 %"),
     FROM("0 %", "20 %"),
     DERIVED("10 %", "one standard deviation; " PRACTICE),
     AT(ct_uncertainty, coil),
     HELP("of the indoor coil's size and conductances")},
    {.path = "tuned",
     SECTION(offsetof(ct_case, tuning)),
     OPTIONAL,
     HELP("what a visit taught; written by 'coiltrim tune'")},
    {.path = "tuned.coil_conductance",
     NUMBER(MAYBE, "0.93"),
     FROM("0.2", "5"),
     OPTIONAL,
     AT(ct_tuning, coil_conductance),
     HELP("indoor coil's conductances, air and refrigerant side, times this; 1 when left out")},
    {.path = "tuned.compressor_flow",
     NUMBER(MAYBE, "0.97"),
     FROM("0.2", "5"),
     OPTIONAL,
     AT(ct_tuning, compressor_flow),
     HELP("compressor's flow times this, its watts with it; 1 when left out")},
    {.path = "tuned.compressor_power",
     NUMBER(MAYBE, "1.02"),
     FROM("0.2", "5"),
     OPTIONAL,
     AT(ct_tuning, compressor_power),
     HELP("compressor's watts per flow times this; 1 when left out")},
    {.path = "tuned.condenser_conductance",
     NUMBER(MAYBE, "0.95"),
     FROM("0.2", "5"),
     OPTIONAL,
     AT(ct_tuning, condenser_conductance),
     HELP("condenser's conductance times this; 1 when left out")},
    {.path = "tuned.airflow",
     NUMBER(MAYBE, "0.90"),
     FROM("0.2", "5"),
     OPTIONAL,
     AT(ct_tuning, airflow),
     HELP("airflow each blower tap delivers times this; 1 when left out")},
    {.path = "tuned.source",
     TEXT(CT_TEXT_SIZE),
     OPTIONAL,
     AT(ct_tuning, source),
     HELP("where the multipliers come from")},
};

const ct_key_table ct_case_keys = {rows, (int)(sizeof rows / sizeof rows[0])};

bool ct_key_public(const ct_key_table *keys, int i, ct_key_row *row)
{
    if (i < 0 || i >= keys->n) return false;
    const ct_key *k = &keys->row[i];
    row->key = k->path;
    row->unit = k->unit_text;
    row->allowed = k->allowed_text ? k->allowed_text : "";
    row->when = k->when_text;
    row->help = k->help;
    return true;
}

bool ct_casefile_key(int i, ct_key_row *row)
{
    return ct_key_public(&ct_case_keys, i, row);
}

const ct_key *ct_key_find(const ct_key_table *keys, const char *path)
{
    for (int i = 0; i < keys->n; i++)
        if (strcmp(keys->row[i].path, path) == 0) return &keys->row[i];
    return NULL;
}

const char *ct_key_child_name(const ct_key *k, const char *section)
{
    const size_t n = strlen(section);
    const char *name = k->path;
    if (n) {
        if (strncmp(name, section, n) != 0 || name[n] != '.') return NULL;
        name += n + 1;
    }
    return strchr(name, '.') ? NULL : name;
}

void ct_path_join(char path[CT_PATH_SIZE], const char *section, const char *name)
{
    snprintf(path, CT_PATH_SIZE, "%s%s%s", section, *section ? "." : "", name);
}

void ct_path_item(char path[CT_PATH_SIZE], const char *list, int i)
{
    snprintf(path, CT_PATH_SIZE, "%s[%d]", list, i + 1);
}

#define WORD_MAX 40

static int least(int a, int b)
{
    return a < b ? a : b;
}

/* Edits (insert, drop, change one letter) that turn a into b: Levenshtein 1966. */
static int distance(const char *a, const char *b)
{
    int row[WORD_MAX + 1];
    const int n = (int)strlen(b);
    if (n > WORD_MAX || strlen(a) > WORD_MAX) return WORD_MAX;
    for (int j = 0; j <= n; j++)
        row[j] = j;
    for (int i = 0; a[i]; i++) {
        int corner = row[0];
        row[0] = i + 1;
        for (int j = 0; j < n; j++) {
            const int change = corner + (a[i] != b[j]);
            corner = row[j + 1];
            row[j + 1] = least(change, least(row[j], corner) + 1);
        }
    }
    return row[n];
}

/* The row of `section` (NULL: of any section) whose last part is nearest to name. */
static const ct_key *nearest(const ct_key_table *keys, const char *section, const char *name,
                             int *edits)
{
    const ct_key *best = NULL;
    for (int i = 0; i < keys->n; i++) {
        const char *last = strrchr(keys->row[i].path, '.');
        const char *word = section ? ct_key_child_name(&keys->row[i], section)
                                   : (last ? last + 1 : keys->row[i].path);
        const int d = word ? distance(name, word) : WORD_MAX;
        if (d < *edits) {
            *edits = d;
            best = &keys->row[i];
        }
    }
    return best;
}

static void list_section(const ct_key_table *keys, const char *section, char *text, size_t size)
{
    size_t n = (size_t)snprintf(text, size, "no such key; known here:");
    for (int i = 0; i < keys->n && n < size; i++) {
        const char *word = ct_key_child_name(&keys->row[i], section);
        if (word) n += (size_t)snprintf(text + n, size - n, " %s", word);
    }
}

void ct_key_suggest(const ct_key_table *keys, const char *section, const char *name, char *text,
                    size_t size)
{
    const int close =
        1 + (int)(strlen(name) / 3); /* a third of the letters wrong still reads as it */
    int edits = close + 1;
    const ct_key *k = nearest(keys, section, name, &edits);
    if (k) {
        snprintf(text, size, "no such key; did you mean '%s'?", ct_key_child_name(k, section));
        return;
    }
    edits = 1; /* elsewhere only the very word counts */
    k = nearest(keys, NULL, name, &edits);
    if (k)
        snprintf(text, size, "no such key here; it belongs at '%s' (check the indentation)",
                 k->path);
    else
        list_section(keys, section, text, size);
}
