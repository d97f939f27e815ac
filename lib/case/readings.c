#include "case/readings.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/units.h"
#include "case/fill.h"
#include "case/key_rows.h"
#include "case/note.h"
#include "case/readings_keys.h"
#include "case/take.h"

#define READING(i) .offset = (offsetof(ct_readings, r) + (i) * sizeof(ct_reading))
#define PART(help_text)                                                                            \
    .type = CT_KEY_SECTION, .unit_text = "section", .mark = CT_NO_MARK, OPTIONAL, HELP(help_text)
#define UNLESS_STATED(margin)                                                                      \
    .when = CT_WHEN_OPTIONAL, .when_text = "optional; +/- " margin " unless stated",               \
    .fallback = margin

/* Sections carry no offset of their own: readings are addressed from the whole struct. */
static const ct_key rows[] = {
    {.path = "return_air", PART("air entering the unit")},
    {.path = "return_air.dry_bulb",
     TEMPERATURE(READING, "75.5 F +/- 0.5 F"),
     FROM("40 F", "120 F"),
     UNLESS_STATED("0.5 F"),
     READING(CT_RETURN_DRY_BULB),
     HELP("dry bulb near the unit")},
    {.path = "return_air.wet_bulb",
     TEMPERATURE(READING, "63 F +/- 1 F"),
     FROM("32 F", "100 F"),
     UNLESS_STATED("1 F"),
     READING(CT_RETURN_WET_BULB),
     HELP("wet bulb; this or relative_humidity")},
    {.path = "return_air.relative_humidity",
     FRACTION(READING, "50% +/- 3%"),
     FROM("1%", "100%"),
     UNLESS_STATED("3%"),
     READING(CT_RETURN_RH),
     HELP("relative humidity; this or wet_bulb")},
    {.path = "supply_air", PART("air leaving the unit, after coil and blower")},
    {.path = "supply_air.dry_bulb",
     TEMPERATURE(READING, "55 F +/- 0.5 F"),
     FROM("20 F", "120 F"),
     UNLESS_STATED("0.5 F"),
     READING(CT_SUPPLY_DRY_BULB),
     HELP("dry bulb near the unit, out of sight of the coil")},
    {.path = "supply_air.wet_bulb",
     TEMPERATURE(READING, "53 F +/- 1 F"),
     FROM("20 F", "100 F"),
     UNLESS_STATED("1 F"),
     READING(CT_SUPPLY_WET_BULB),
     HELP("wet bulb; this or relative_humidity")},
    {.path = "supply_air.relative_humidity",
     FRACTION(READING, "90% +/- 3%"),
     FROM("1%", "100%"),
     UNLESS_STATED("3%"),
     READING(CT_SUPPLY_RH),
     HELP("relative humidity; this or wet_bulb")},
    {.path = "supply_air.split",
     DELTA_T(READING, "20 F +/- 1 F"),
     FROM("-20 F", "60 F"),
     UNLESS_STATED("1 F"),
     READING(CT_SPLIT),
     HELP("return less supply dry bulb, in place of dry_bulb")},
    {.path = "outdoor_air", PART("air entering the outdoor unit")},
    {.path = "outdoor_air.dry_bulb",
     TEMPERATURE(READING, "92 F +/- 1 F"),
     FROM("40 F", "130 F"),
     UNLESS_STATED("1 F"),
     READING(CT_OUTDOOR_DRY_BULB),
     HELP("dry bulb, in the shade, where the condenser draws its air")},
    {.path = "outdoor_air.leaving",
     TEMPERATURE(READING, "112 F +/- 2 F"),
     FROM("40 F", "180 F"),
     UNLESS_STATED("2 F"),
     READING(CT_CONDENSER_LEAVING),
     HELP("air leaving the condenser, over the fan, the mean of a few places")},
    {.path = "suction", PART("suction line at the outdoor unit")},
    {.path = "suction.pressure",
     GAUGE(READING, "70 psig +/- 1 psi"),
     FROM("5 psig", "250 psig"),
     UNLESS_STATED("1% and 1 psi"),
     READING(CT_SUCTION_PRESSURE),
     HELP("gauge pressure")},
    {.path = "suction.temperature",
     TEMPERATURE(READING, "55 F +/- 1 F"),
     FROM("0 F", "120 F"),
     UNLESS_STATED("1 F"),
     READING(CT_SUCTION_TEMPERATURE),
     HELP("temperature of the pipe beside the gauge port")},
    {.path = "suction.saturation",
     TEMPERATURE(READING, "40 F +/- 1 F"),
     FROM("-20 F", "80 F"),
     UNLESS_STATED("1 F"),
     READING(CT_SUCTION_SATURATION),
     HELP("saturation (dew) temperature, in place of the pressure")},
    {.path = "suction.superheat",
     DELTA_T(READING, "12 F +/- 2 F"),
     FROM("-10 F", "80 F"),
     UNLESS_STATED("1.5 F"),
     READING(CT_SUPERHEAT),
     HELP("superheat, in place of the temperature")},
    {.path = "liquid", PART("liquid line at the outdoor unit")},
    {.path = "liquid.pressure",
     GAUGE(READING, "250 psig +/- 3 psi"),
     FROM("20 psig", "650 psig"),
     UNLESS_STATED("1% and 1 psi"),
     READING(CT_LIQUID_PRESSURE),
     HELP("gauge pressure")},
    {.path = "liquid.temperature",
     TEMPERATURE(READING, "105 F +/- 1 F"),
     FROM("20 F", "160 F"),
     UNLESS_STATED("1 F"),
     READING(CT_LIQUID_TEMPERATURE),
     HELP("temperature of the pipe beside the gauge port")},
    {.path = "liquid.saturation",
     TEMPERATURE(READING, "115 F +/- 1 F"),
     FROM("40 F", "160 F"),
     UNLESS_STATED("1 F"),
     READING(CT_LIQUID_SATURATION),
     HELP("saturation (bubble) temperature, in place of the pressure")},
    {.path = "liquid.subcooling",
     DELTA_T(READING, "10 F +/- 2 F"),
     FROM("-10 F", "50 F"),
     UNLESS_STATED("1.5 F"),
     READING(CT_SUBCOOLING),
     HELP("subcooling, in place of the temperature")},
    {.path = "blower", PART("indoor blower and ducts")},
    {.path = "blower.tap",
     TEXT(CT_NAME_SIZE),
     OPTIONAL,
     AT(ct_readings, tap),
     HELP("name of the tap it ran on, as in the case file")},
    {.path = "blower.static",
     PRESSURE(READING, "0.52 inwc +/- 0.02 inwc"),
     FROM("0.01 inwc", "2 inwc"),
     UNLESS_STATED("0.02 inwc"),
     READING(CT_STATIC),
     HELP("external static: supply plus return")},
    {.path = "blower.airflow",
     AIRFLOW(READING, "1050 cfm +/- 7%"),
     FROM("50 cfm", "10000 cfm"),
     UNLESS_STATED("7%"),
     READING(CT_AIRFLOW),
     HELP("measured airflow, actual")},
    {.path = "blower.power",
     POWER(READING, "440 W +/- 3%"),
     FROM("5 W", "4000 W"),
     UNLESS_STATED("3%"),
     READING(CT_BLOWER_POWER),
     HELP("blower motor input")},
    {.path = "blower.heat_power",
     POWER(READING, "9.6 kW +/- 2%"),
     FROM("500 W", "60 kW"),
     UNLESS_STATED("2%"),
     READING(CT_HEAT_POWER),
     HELP("electric heat and blower, measured, cooling off, on the same tap; with heat_rise in "
          "place "
          "of airflow")},
    {.path = "blower.heat_rise",
     DELTA_T(READING, "28 F +/- 1 F"),
     FROM("5 F", "120 F"),
     UNLESS_STATED("1 F"),
     READING(CT_HEAT_RISE),
     HELP("rise of the air with that heat; the airflow from it has 10% of doubt besides, for "
          "supply air is uneven")},
    {.path = "condensate",
     PART("water from the drain in a measured time, after half an hour of run")},
    {.path = "condensate.water",
     WATER(READING, "2.5 lb +/- 4%"),
     FROM("0.02 lb", "100 lb"),
     UNLESS_STATED("4%"),
     READING(CT_CONDENSATE_WATER),
     HELP("water caught; with time")},
    {.path = "condensate.time",
     TIME(READING, "20 min +/- 1%"),
     FROM("1 min", "8 h"),
     UNLESS_STATED("1%"),
     READING(CT_CONDENSATE_TIME),
     HELP("how long it was caught")},
    {.path = "outdoor_unit", PART("outdoor unit: its stage and its electric input")},
    {.path = "outdoor_unit.stage",
     CHOICE("high|low"),
     OPTIONAL,
     AT(ct_readings, stage),
     HELP("which stage of a two-stage unit ran while this was read; high unless stated")},
    {.path = "outdoor_unit.compressor_power",
     POWER(READING, "2800 W +/- 3%"),
     FROM("100 W", "30000 W"),
     UNLESS_STATED("3%"),
     READING(CT_COMPRESSOR_POWER),
     HELP("compressor alone; this or total_power")},
    {.path = "outdoor_unit.total_power",
     POWER(READING, "3000 W +/- 3%"),
     FROM("100 W", "33000 W"),
     UNLESS_STATED("3%"),
     READING(CT_OUTDOOR_POWER),
     HELP("compressor and outdoor fan; this or compressor_power")},
    {.path = "outdoor_unit.amps",
     CURRENT(READING, "14.6 A +/- 2%"),
     FROM("1 A", "200 A"),
     UNLESS_STATED("2%"),
     READING(CT_OUTDOOR_AMPS),
     HELP("amps of the outdoor unit on one leg, single-phase; with volts in place of total_power")},
    {.path = "outdoor_unit.volts",
     VOLTAGE(READING, "236 V +/- 1%"),
     FROM("90 V", "300 V"),
     UNLESS_STATED("1%"),
     READING(CT_OUTDOOR_VOLTS),
     HELP("volts across the legs while it runs")},
    {.path = "outdoor_unit.power_factor",
     FRACTION(READING, "0.97 +/- 0.03"),
     FROM("0.5", "1"),
     UNLESS_STATED("0.03"),
     READING(CT_POWER_FACTOR),
     HELP("power factor of the outdoor unit; 0.95 when not given (" PRACTICE ")")},
    {.path = "notes",
     TEXT(CT_TEXT_SIZE),
     OPTIONAL,
     AT(ct_readings, notes),
     HELP("anything to remember")},
};

static const ct_key_rows all = {rows, (int)(sizeof rows / sizeof rows[0])};
static const ct_key_rows *const parts[] = {&all};
static const ct_key_table keys = {parts, 1};

bool ct_readings_key(int i, ct_key_row *row)
{
    return ct_key_public(&keys, i, row);
}

const char *ct_reading_name(ct_reading_kind kind)
{
    switch (kind) {
    case CT_RETURN_DRY_BULB: return "return air dry bulb";
    case CT_RETURN_WET_BULB: return "return air wet bulb";
    case CT_RETURN_RH: return "return air relative humidity";
    case CT_SUPPLY_DRY_BULB: return "supply air dry bulb";
    case CT_SUPPLY_WET_BULB: return "supply air wet bulb";
    case CT_SUPPLY_RH: return "supply air relative humidity";
    case CT_OUTDOOR_DRY_BULB: return "outdoor air dry bulb";
    case CT_SUCTION_PRESSURE: return "suction pressure";
    case CT_SUCTION_TEMPERATURE: return "suction line temperature";
    case CT_LIQUID_PRESSURE: return "liquid pressure";
    case CT_LIQUID_TEMPERATURE: return "liquid line temperature";
    case CT_STATIC: return "external static";
    case CT_AIRFLOW: return "measured airflow";
    case CT_COMPRESSOR_POWER: return "compressor power";
    case CT_OUTDOOR_POWER: return "outdoor unit power";
    case CT_BLOWER_POWER: return "blower power";
    case CT_CONDENSER_LEAVING: return "air leaving the condenser";
    case CT_CONDENSATE: return "condensate";
    case CT_OUTDOOR_AMPS: return "outdoor unit amps";
    case CT_OUTDOOR_VOLTS: return "outdoor unit volts";
    case CT_POWER_FACTOR: return "power factor";
    case CT_HEAT_POWER: return "power of the heat";
    case CT_HEAT_RISE: return "rise with the heat";
    case CT_CONDENSATE_WATER: return "water caught";
    case CT_CONDENSATE_TIME: return "time of the water caught";
    case CT_SUCTION_SATURATION: return "suction saturation temperature";
    case CT_SUPERHEAT: return "superheat";
    case CT_LIQUID_SATURATION: return "liquid saturation temperature";
    case CT_SUBCOOLING: return "subcooling";
    case CT_SPLIT: return "temperature split";
    case CT_READING_COUNT: break;
    }
    return "unknown reading";
}

const ct_key_table *ct_readings_keys(void)
{
    return &keys;
}

int ct_readings_kind(const ct_key *key)
{
    if (key->type != CT_KEY_READING) return CT_READING_COUNT;
    return (int)((key->offset - offsetof(ct_readings, r)) / sizeof(ct_reading));
}

const ct_key *ct_readings_row(int kind)
{
    const size_t offset = offsetof(ct_readings, r) + (size_t)kind * sizeof(ct_reading);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        if (rows[i].type == CT_KEY_READING && rows[i].offset == offset) return &rows[i];
    return NULL;
}

/* One part of a margin: a share of the reading, or an amount in its own unit. */
static double margin_part(const ct_key *k, const char *text, double v)
{
    double u = (double)NAN;
    const bool share = strchr(text, '%') && k->unit != CT_UNIT_FRACTION;
    ct_units_read(text, share ? CT_UNIT_FRACTION : ct_take_margin_kind(k->unit), &u, NULL);
    return share ? u * v : u;
}

/* From the row's own words: "7%", "0.5 F", or "1% and 1 psi", independent of each
 * other. */
double ct_reading_margin(ct_reading_kind kind, double v)
{
    static const char and[] = " and ";
    const ct_key *k = ct_readings_row((int)kind);
    if (kind == CT_CONDENSATE) /* water over time */
        return hypot(ct_reading_margin(CT_CONDENSATE_WATER, v),
                     ct_reading_margin(CT_CONDENSATE_TIME, v));
    if (!k) return (double)NAN;
    const char *second = strstr(k->fallback, and);
    if (!second) return margin_part(k, k->fallback, v);
    char first[16];
    snprintf(first, sizeof first, "%.*s", (int)(second - k->fallback), k->fallback);
    return hypot(margin_part(k, first, v), margin_part(k, second + strlen(and), v));
}

static void not_both(ct_reader *r, const char *a, const char *b)
{
    const ct_node *first = ct_tree_find(r->root, a);
    const ct_node *second = ct_tree_find(r->root, b);
    if (!first || !second) return;
    ct_note_fault(r->report, CT_CASE_CONFLICT, second->line, b, second->text ? second->text : "",
                  "says the same as '%s' in line %d; keep the one that was measured", a,
                  first->line);
}

/* A reading that replaces another needs a third one to be turned into it. */
static void needs(ct_reader *r, const char *given, const char *one, const char *other)
{
    const ct_node *n = ct_tree_find(r->root, given);
    if (!n || ct_tree_find(r->root, one) || (other && ct_tree_find(r->root, other))) return;
    ct_note_fault(r->report, CT_CASE_CONFLICT, n->line, given, n->text ? n->text : "",
                  "says nothing without '%s'%s%s%s; add it", one, other ? " or '" : "",
                  other ? other : "", other ? "'" : "");
}

static void check_stand_ins(ct_reader *r)
{
    not_both(r, "suction.pressure", "suction.saturation");
    not_both(r, "suction.temperature", "suction.superheat");
    not_both(r, "liquid.pressure", "liquid.saturation");
    not_both(r, "liquid.temperature", "liquid.subcooling");
    not_both(r, "supply_air.dry_bulb", "supply_air.split");
    not_both(r, "blower.airflow", "blower.heat_rise");
    not_both(r, "outdoor_unit.total_power", "outdoor_unit.amps");
    not_both(r, "outdoor_unit.compressor_power", "outdoor_unit.amps");
    needs(r, "outdoor_unit.amps", "outdoor_unit.volts", NULL);
    needs(r, "outdoor_unit.volts", "outdoor_unit.amps", NULL);
    needs(r, "outdoor_unit.power_factor", "outdoor_unit.amps", NULL);
    needs(r, "blower.heat_power", "blower.heat_rise", NULL);
    needs(r, "blower.heat_rise", "blower.heat_power", NULL);
    needs(r, "blower.heat_rise", "return_air.dry_bulb", NULL);
    needs(r, "condensate.water", "condensate.time", NULL);
    needs(r, "condensate.time", "condensate.water", NULL);
    needs(r, "suction.superheat", "suction.pressure", "suction.saturation");
    needs(r, "liquid.subcooling", "liquid.pressure", "liquid.saturation");
    needs(r, "supply_air.split", "return_air.dry_bulb", NULL);
}

static void check(ct_reader *r, const ct_readings *readings)
{
    int n = 0;
    not_both(r, "return_air.wet_bulb", "return_air.relative_humidity");
    not_both(r, "supply_air.wet_bulb", "supply_air.relative_humidity");
    not_both(r, "outdoor_unit.compressor_power", "outdoor_unit.total_power");
    check_stand_ins(r);
    for (int i = 0; i < CT_READING_COUNT; i++)
        n += readings->r[i].has;
    if (n == 0 && r->report->n_faults == 0)
        ct_note_fault(r->report, CT_CASE_MISSING_KEY, 0, "", "",
                      "no reading in the file; give at least one, such as supply_air.dry_bulb");
}

static void usual_margins(ct_readings *readings)
{
    for (int i = 0; i < CT_READING_COUNT; i++) {
        ct_reading *r = &readings->r[i];
        if (r->has && isnan(r->u)) r->u = ct_reading_margin((ct_reading_kind)i, r->v);
    }
}

/* The two files exchanged: one sentence in place of a fault for each of its sections. */
static bool is_case(const ct_node *root)
{
    return ct_tree_find(root, "house") && ct_tree_find(root, "outdoor") &&
           ct_tree_find(root, "indoor");
}

ct_status ct_readings_parse(const char *text, size_t size, ct_readings *out, ct_case_report *report,
                            ct_fault *fault)
{
    assert(out && report);
    ct_node *root;
    ct_readings readings = {0};
    report->n_faults = report->n_assumed = 0;
    const ct_status status = ct_tree_read(text, size, &root, &report->fault[0]);
    if (status == CT_SYSTEM) return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    if (status != CT_OK) {
        report->n_faults = 1;
        return ct_note_summary(report, fault);
    }
    if (is_case(root)) {
        ct_note_fault(report, CT_CASE_UNKNOWN_KEY, 0, "", "",
                      "this is a case, and readings belong here; the case comes first");
        ct_tree_free(root);
        return ct_note_summary(report, fault);
    }
    ct_reader r = {.keys = &keys, .root = root, .report = report};
    ct_fill_names(&keys, root);
    ct_fill(&r, &readings);
    check(&r, &readings);
    ct_note_sort(report);
    ct_tree_free(root);
    if (report->n_faults > 0) return ct_note_summary(report, fault);
    usual_margins(&readings);
    *out = readings;
    return CT_OK;
}

ct_status ct_readings_load(const char *path, ct_readings *out, ct_case_report *report,
                           ct_fault *fault)
{
    assert(out && report);
    char *text;
    report->n_faults = report->n_assumed = 0;
    size_t size;
    ct_status status = ct_tree_text(path, &text, &size, fault);
    if (status != CT_OK) return status;
    status = ct_readings_parse(text, size, out, report, fault);
    free(text);
    return status;
}
