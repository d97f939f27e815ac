#include "case/keys.h"

#include "case/case.h"
#include "case/key_rows.h"

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
         DEFAULT("220 W/mK", "aluminum fin alloy; from memory"),                                   \
         AT(ct_coil_geometry, fin_k),                                                              \
         HELP("conductivity of the fins")},                                                        \
        {.path = p ".tube_diameter",                                                               \
         LENGTH(NUMBER, "0.375 in"),                                                               \
         FROM("0.15 in", "1 in"),                                                                  \
         DEFAULT("0.375 in", "usual copper tube of residential coils; " PRACTICE),                 \
         AT(ct_coil_geometry, tube_od),                                                            \
         HELP("outside diameter of the tubes")},                                                   \
        {.path = p ".tube_wall",                                                                   \
         LENGTH(NUMBER, "0.012 in"),                                                               \
         FROM("0.005 in", "0.1 in"),                                                               \
         DEFAULT("0.012 in", "usual copper coil tube; " PRACTICE),                                 \
         AT(ct_coil_geometry, tube_wall),                                                          \
         HELP("wall thickness of the tubes")},                                                     \
        {.path = p ".tube_spacing",                                                                \
         LENGTH(NUMBER, "1 in"),                                                                   \
         FROM("0.3 in", "3 in"),                                                                   \
         DEFAULT("1 in", "usual for 3/8 in tube; " PRACTICE),                                      \
         AT(ct_coil_geometry, pitch_t),                                                            \
         HELP("tube to tube, centers, across the airflow")},                                       \
        {.path = p ".row_spacing",                                                                 \
         LENGTH(NUMBER, "0.866 in"),                                                               \
         FROM("0.3 in", "3 in"),                                                                   \
         DEFAULT("0.866 in", "staggered rows of 1 in spacing; " PRACTICE),                         \
         AT(ct_coil_geometry, pitch_l),                                                            \
         HELP("row to row, centers, along the airflow")},                                          \
        {.path = p ".circuits",                                                                    \
         NUMBER(WHOLE, "4"),                                                                       \
         FROM("1", "60"),                                                                          \
         DERIVED("1.5 per ton", "three paths for two tons; " PRACTICE),                            \
         AT(ct_coil_geometry, circuits),                                                           \
         HELP("parallel refrigerant circuits")},                                                   \
    {                                                                                              \
        .path = p ".fin_shape", CHOICE("plain|wavy|louvered_wavy"),                                \
        ALSO("louvred_wavy=louvered_wavy|louvered=louvered_wavy|louvred=louvered_"                 \
             "wavy|flat=plain"),                                                                   \
        DEFAULT("wavy", "most residential coils; " PRACTICE), AT(ct_coil_geometry, fin),           \
        HELP("shape of the fins")                                                                  \
    }

static const ct_key rows[] = {
    {.path = "matched_coil",
     MARKED(offsetof(ct_case, matched), offsetof(ct_case, has_matched_geometry)),
     OPTIONAL,
     HELP("the coil the outdoor unit was rated with, read off, when the other coil is too")},
    GEOMETRY_KEYS("matched_coil"),

    {.path = "indoor",
     SECTION(offsetof(ct_case, indoor)),
     REQUIRED,
     HELP("the indoor unit to check")},
    {.path = "indoor.name",
     TEXT(CT_NAME_SIZE),
     DERIVED(CT_UNNAMED_UNIT, ""),
     AT(ct_indoor_unit, name),
     HELP("short name for plots and tables; required in candidates")},
    {.path = "indoor.price",
     NUMBER(MAYBE, "1850"),
     FROM("0", "1000000"),
     OPTIONAL,
     AT(ct_indoor_unit, price),
     HELP("price, in your own currency")},
    {.path = "indoor.labor",
     NUMBER(MAYBE, "900"),
     FROM("0", "1000000"),
     OPTIONAL,
     AT(ct_indoor_unit, labor),
     ALSO("labour"),
     HELP("labor to install it, same currency")},
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
     HELP("EER on its sticker or listing")},
    {.path = "indoor.coil", SECTION(offsetof(ct_indoor_unit, coil)), ALWAYS, HELP("its coil")},
    {.path = "indoor.coil.size",
     SHORT("coil"),
     NUMBER(NUMBER, "1.35"),
     FROM("0.4", "3"),
     DERIVED("1", "a matched coil"),
     AT(ct_coil_spec, size),
     HELP("heat transfer area relative to the matched coil, when no geometry is given")},
    {.path = "indoor.coil.tons",
     WHAT(MAYBE, TONS, "nominal size, 3.5 ton"),
     FROM("0.5 ton", "20 ton"),
     OPTIONAL,
     AT(ct_coil_spec, tons),
     SHORT("coil_tons"),
     HELP("nominal size the coil is sold for; in place of size, which becomes these tons over the "
          "outdoor unit's")},
    {.path = "indoor.coil.sizes_up",
     NUMBER(MAYBE, "1"),
     FROM("-3", "3"),
     OPTIONAL,
     AT(ct_coil_spec, sizes_up),
     SHORT("sizes_up"),
     HELP("sizes above the outdoor unit's in the row coils are sold in: 1 for one size up; in "
          "place of size")},
    {.path = "indoor.coil.growth",
     CHOICE("face|depth"),
     ALSO("rows=depth"),
     DERIVED("face", "a larger coil has more face, not more rows; " PRACTICE),
     AT(ct_coil_spec, growth),
     HELP("how it differs in size: more face, or more rows")},
    {.path = "indoor.coil.circuits",
     NUMBER(MAYBE, "1.35"),
     FROM("0.2", "5"),
     OPTIONAL,
     AT(ct_coil_spec, circuits),
     HELP("parallel refrigerant circuits relative to the matched coil")},
    {.path = "indoor.coil.face_area",
     AREA(MAYBE, "4.5 ft2"),
     FROM("0.5 ft2", "30 ft2"),
     OPTIONAL,
     AT(ct_coil_spec, face),
     HELP("face, for moisture carry-over, when no geometry is given")},
    {.path = "indoor.coil.inner_volume",
     VOLUME(MAYBE, "180 in3"),
     FROM("5 in3", "2000 in3"),
     OPTIONAL,
     AT(ct_coil_spec, V_inside),
     HELP("what its tubes hold: how much more charge a larger coil takes while a heat pump heats")},
    {.path = "indoor.coil.wet_drop",
     PRESSURE(MAYBE, "0.25 inwc"),
     FROM("0.01 inwc", "2 inwc"),
     ESTIMATED("where the tap table lacks it",
               "friction of its fins, or of a typical coil's, times 1.35 wet; good to a third"),
     AT(ct_coil_spec, dp_wet),
     HELP("its own air-side drop, wet, at wet_drop_airflow")},
    {.path = "indoor.coil.wet_drop_airflow",
     AIRFLOW(MAYBE, "1200 cfm"),
     FROM("100 cfm", "10000 cfm"),
     ESTIMATED("with wet_drop", "the rated airflow, where wet_drop is estimated"),
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
     HELP("refrigerant it is made for, or several: R-22, R-410A")},
    {.path = "indoor.coil.geometry",
     MARKED(offsetof(ct_coil_spec, geometry), offsetof(ct_coil_spec, has_geometry)),
     OPTIONAL,
     HELP("read off the coil, instead of size; section matched_coil is the other half of the "
          "comparison, else it is a usual coil")},
    GEOMETRY_KEYS("indoor.coil.geometry"),
    {.path = "indoor.metering",
     SECTION(offsetof(ct_indoor_unit, meter)),
     ALWAYS,
     HELP("its metering device")},
    {.path = "indoor.metering.kind",
     SHORT("metering"),
     CHOICE("valve|piston"),
     DEFAULT("valve", "a thermostatic expansion valve; " PRACTICE),
     AT(ct_meter_spec, kind),
     ALSO("TXV=valve|TEV=valve|thermostatic=valve|EEV=valve|EXV=valve|electronic=valve|orifice="
          "piston|fixed_orifice=piston"),
     HELP("valve: thermostatic (TXV, TEV) or electronic (EEV, EXV); piston: a fixed orifice")},
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
     HELP("refrigerant the valve is made for; several for a valve with a switch: R-22, R-410A")},
    {.path = "indoor.metering.bore",
     SHORT("bore"),
     STAMPED,
     LENGTH(MAYBE, "0.067 in"),
     FROM("0.02 in", "0.137 in"),
     NEEDED_WITH("kind: piston"),
     AT(ct_meter_spec, bore),
     HELP("diameter of the hole in the piston; 67, as it is stamped, is 0.067 in")},
    {.path = "indoor.metering.length",
     LENGTH(NUMBER, "0.5 in"),
     FROM("0.12 in", "1.57 in"),
     DERIVED("0.5 in", "usual piston; " PRACTICE),
     AT(ct_meter_spec, length),
     HELP("length of the hole in the piston")},
    {.path = "indoor.metering.distributor_drop",
     PRESSURE(NUMBER, "25 psi"),
     FROM("0 psi", "100 psi"),
     DEFAULT("25 psi", "distributor and its tubes together; " PRACTICE),
     AT(ct_meter_spec, dp_distributor),
     HELP("pressure lost between the device and the coil")},
    {.path = "indoor.blower",
     SECTION(offsetof(ct_indoor_unit, blower)),
     ALWAYS,
     HELP("its blower; a candidate without this section goes on the blower of indoor")},
    {.path = "indoor.blower.motor",
     SHORT("motor"),
     CHOICE("psc|constant_torque|constant_airflow"),
     NEEDED_WITH("taps"),
     AT(ct_blower, motor),
     ALSO("permanent_split_capacitor=psc|ECM=constant_torque,constant_airflow"),
     HELP("psc: permanent split capacitor; constant torque or constant airflow (both ECM)")},
    {.path = "indoor.blower.position",
     SHORT("position"),
     .type = CT_KEY_ONLY,
     .words = "before_coil|after_coil",
     .unit_text = "word",
     .allowed_text = "before_coil|after_coil",
     DERIVED("after_coil", "air handlers draw through the coil; " PRACTICE),
     .also = "draw_through=after_coil|blow_through=before_coil|furnace=before_coil",
     HELP("side of the coil the blower is on; a furnace is before_coil")},
    {.path = "indoor.blower.power",
     POWER(NUMBER, "450 W"),
     FROM("0 W", "4000 W"),
     DERIVED("365 W per 1000 cfm", "365 W per 1000 standard cfm, coil-only default of 10 CFR 430 "
                                   "appendix M; from memory"),
     .offset = offsetof(ct_indoor_unit, P_blower_default) - offsetof(ct_indoor_unit, blower),
     HELP("blower watts at the rated airflow, when there is no tap table")},
    {.path = "indoor.blower.heat_tap",
     SHORT("heat_tap"),
     TEXT(CT_NAME_SIZE),
     OPTIONAL,
     .offset = offsetof(ct_indoor_unit, heat_tap) - offsetof(ct_indoor_unit, blower),
     HELP("name of the tap that heats")},
    {.path = "indoor.blower.heating_airflow",
     AIRFLOW(MAYBE, "1200 cfm"),
     FROM("100 cfm", "10000 cfm"),
     OPTIONAL,
     .offset = offsetof(ct_indoor_unit, V_heat) - offsetof(ct_indoor_unit, blower),
     HELP("airflow while it heats, measured, in place of heat_tap")},
    {.path = "indoor.blower.static_limit",
     PRESSURE(NUMBER, "0.8 inwc"),
     FROM("0.1 inwc", "2 inwc"),
     NEEDED_WITH("taps"),
     AT(ct_blower, dp_max),
     HELP("highest external static on the nameplate")},
    {.path = "indoor.blower.table_includes_coil",
     CHOICE("no|yes|other"),
     .also = "false=no|true=yes|off=no|on=yes|another=other|old=other",
     DERIVED("yes after_coil, no before_coil",
             "air handler tables include their coil, furnace tables do not; " PRACTICE),
     AT(ct_blower, table_coil),
     HELP("the tap table was measured with this coil in place (yes), without a coil (no), or with "
          "another coil (other)")},
    {.path = "indoor.blower.table_coil_drop",
     PRESSURE(MAYBE, "0.18 inwc"),
     FROM("0.01 inwc", "2 inwc"),
     ESTIMATED("with table_includes_coil: other",
               "friction of the matched coil's fins, or of a typical coil's, times 1.35 wet"),
     .offset = offsetof(ct_indoor_unit, dp_table_coil) - offsetof(ct_indoor_unit, blower),
     HELP("wet drop of the other coil the tap table was measured with")},
    {.path = "indoor.blower.table_coil_airflow",
     AIRFLOW(MAYBE, "1200 cfm"),
     FROM("100 cfm", "10000 cfm"),
     ESTIMATED("with table_coil_drop", "the rated airflow, where table_coil_drop is estimated"),
     .offset = offsetof(ct_indoor_unit, V_table_coil) - offsetof(ct_indoor_unit, blower),
     HELP("airflow that table_coil_drop was measured at")},
    {.path = "indoor.blower.thin_air",
     .type = CT_KEY_ONLY,
     .words = "volume|mass",
     .unit_text = "word",
     .allowed_text = "volume|mass",
     DERIVED("volume",
             "the airflow set is the volume moved; some controls hold the mass; " PRACTICE),
     HELP("what a constant airflow motor holds at altitude")},
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
     HELP("speed taps and the airflow each one moves")},
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
     HELP("airflow at that static")},
    {.path = "indoor.blower.taps[].points[].power",
     POWER(NUMBER, "480 W"),
     FROM("5 W", "4000 W"),
     REQUIRED,
     AT(ct_tap_point, P),
     HELP("blower watts at that static")},
    {.path = "indoor.cabinet",
     MARKED(offsetof(ct_indoor_unit, cabinet),
            offsetof(ct_indoor_unit, cabinet) + offsetof(ct_cabinet, has)),
     OPTIONAL,
     HELP("its cabinet, to see whether it gets in")},
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
     DEFAULT("no", "most may also lie on a side, but look in the installation manual; " PRACTICE),
     AT(ct_cabinet, upright_only),
     HELP("may not be installed lying on its side")},
    {.path = "indoor.cabinet.filter",
     LENGTH(MAYBE, "20 in"),
     FROM("2 in", "80 in"),
     OPTIONAL,
     AT(ct_cabinet, filter),
     HELP("length of the filter, which is pulled out of the front")},
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
     HELP("further indoor units to compare, each with the keys of indoor; a coil by itself has no "
          "blower and goes on that of indoor")},
};

const ct_key_rows ct_keys_indoor = {rows, (int)(sizeof rows / sizeof rows[0])};
