#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/html.h"
#include "base/units.h"
#include "page/page.h"
#include "show/compatibility_words.h"
#include "sweep/text.h"

#define SHOW(q, v) page_show(p, q, v).text

/* ---- Inputs and assumptions ------------------------------------------------------ */

static void input(FILE *out, const char *name, const char *value)
{
    fputs("<li>", out);
    html_element(out, "b", NULL, "%s:", name);
    html_say(out, " %s", value);
    fputs("</li>\n", out);
}

static void input_maybe(FILE *out, const page *p, const char *name, quantity q, const ct_maybe *v)
{
    if (v->has) input(out, name, SHOW(q, v->v));
}

static void inputs_of_house(FILE *out, const page *p)
{
    const ct_case *c = p->j->c;
    const ct_house *house = &c->house;
    input(out, "Altitude", SHOW(Q_LENGTH, c->site.altitude));
    input(out, "Outdoors, design day", SHOW(Q_TEMPERATURE, c->site.T_outdoor));
    input(out, "Return air", SHOW(Q_TEMPERATURE, c->site.indoor.T));
    input(out, "Return humidity", SHOW(Q_FRACTION, ct_air_rh(&p->at.indoor)));
    input(out, "Sensible load", SHOW(Q_HEAT, house->Q_sensible));
    input(out, "Latent load", SHOW(Q_HEAT, house->Q_latent));
    input(out, "Margin on the sensible load", SHOW(Q_FRACTION, house->margin));
    input_maybe(out, p, "Infiltration", Q_AIRFLOW, &house->infiltration);
    input_maybe(out, p, "Humidity ceiling", Q_FRACTION, &house->rh_ceiling);
    input_maybe(out, p, "No cooling needed below", Q_TEMPERATURE, &house->T_balance);
    if (c->has_duct) {
        input(out, "Ducts, static measured", SHOW(Q_STATIC, c->duct.dp));
        input(out, "Ducts, airflow measured", SHOW(Q_AIRFLOW, c->duct.V));
    }
}

static void inputs_of_equipment(FILE *out, const page *p)
{
    const ct_outdoor_unit *u = &p->j->c->outdoor;
    const ct_indoor_unit *unit = page_indoor(p);
    char text[80];
    snprintf(text, sizeof text, "%.3g ton nominal, %s", u->tons,
             ct_refrigerant_name(p->j->refrigerant));
    input(out, "Outdoor unit", text);
    input(out, "Rated net capacity", SHOW(Q_HEAT, u->Q_net));
    input(out, "Rated EER", SHOW(Q_EER, u->EER));
    input_maybe(out, p, "SEER on its label", Q_EER, &u->SEER_label);
    input(out, "Rated airflow, standard air", SHOW(Q_AIRFLOW, u->V_rated_std));
    input(out, "Indoor unit", unit->name);
    if (unit->coil.has_geometry)
        input(out, "Coil", "by its own geometry");
    else {
        snprintf(text, sizeof text, "%.3g times the matched coil, more %s", unit->coil.size,
                 unit->coil.growth == CT_GROW_FACE ? "face" : "depth");
        if (!(fabs(unit->coil.size - 1) > 0)) snprintf(text, sizeof text, "as the matched coil");
        input(out, "Coil size", text);
    }
    if (unit->meter.kind == CT_METER_VALVE)
        input(out, "Metering", "thermostatic valve");
    else if (unit->meter.bore.has) {
        snprintf(text, sizeof text, p->metric ? "piston, bore %.2f mm" : "piston, bore %.3f in",
                 unit->meter.bore.v / (p->metric ? 1e-3 : CT_M_PER_IN));
        input(out, "Metering", text);
    }
}

static bool starts_with(const char *text, const char *with)
{
    return strncmp(text, with, strlen(with)) == 0;
}

/* Assumptions about another indoor unit than the page's are left to that unit's own page. */
static bool concerns(const page *p, const char *key)
{
    char own[24];
    snprintf(own, sizeof own, p->unit ? "candidates[%d]" : "indoor.", p->unit);
    if (starts_with(key, "indoor.") || starts_with(key, "candidates["))
        return starts_with(key, own);
    return true;
}

static void write_assumed(FILE *out, const page *p)
{
    const ct_case_report *report = p->j->report;
    const int n = report->n_assumed < CT_MAX_ASSUMED ? report->n_assumed : CT_MAX_ASSUMED;
    fputs("<h3>", out);
    html_say(out, "Assumed, because the case does not say");
    html_element(out, "span", "paper", " (the reasons stand in this page's file)");
    fputs("</h3>\n", out);
    fputs("<ul class=\"list\">\n", out);
    for (int i = 0; i < n; i++) {
        const ct_assumed *a = &report->assumed[i];
        if (!concerns(p, a->key)) continue;
        fputs("<li>", out);
        html_element(out, "b", NULL, "%s", a->key);
        html_say(out, " = %s", a->text);
        if (a->why[0]) html_element(out, "span", "why", " (%s)", a->why);
        fputs("</li>\n", out);
    }
    fputs("</ul>\n", out);
}

static void write_doubts(FILE *out, const page *p)
{
    char line[PLAUSIBILITY_LINES][PLAUSIBILITY_SIZE];
    const int n = calibration_doubts(p->j, line);
    for (int i = 0; i < n; i++)
        html_element(out, "p", NULL, "Doubt: %s.", line[i]);
}

void page_write_inputs(FILE *out, const page *p)
{
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "What went in");
    fputs("<ul class=\"list\">\n", out);
    inputs_of_house(out, p);
    inputs_of_equipment(out, p);
    fputs("</ul>\n", out);
    write_doubts(out, p);
    write_assumed(out, p);
    fputs("</section>\n", out);
}

/* ---- Readings -------------------------------------------------------------------- */

/* What the expected values hold for: to be measured first. */
static void write_conditions(html_table *t, const page *p)
{
    const struct {
        const char *name;
        double T;
    } rows[] = {
        {"Outdoor dry bulb", p->at.T_out},
        {"Return dry bulb", p->at.indoor.T},
        {"Return wet bulb", p->readings.has_wet_bulb ? p->readings.T_return_wet : (double)NAN}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        html_cell(t, "%s", rows[i].name);
        html_cell(t, "if %s", SHOW(Q_TEMPERATURE, rows[i].T));
        html_cell(t, "–");
        html_row_end(t);
    }
}

static void write_expected(FILE *out, const page *p)
{
    static const char *const headings[] = {"Reading", "Expected", "Off by up to", "Found"};
    html_table t;
    html_table_begin(&t, out, "blanks", "On the design day", 4, headings);
    write_conditions(&t, p);
    for (int i = 0; i < READ_COUNT; i++) {
        const page_reading_row *row = page_reading_of((page_reading)i);
        const double v = p->readings.v[i], spread = p->readings.tolerance[i];
        html_cell(&t, "%s", row->name);
        html_cell(&t, "%s", SHOW(row->value, v));
        html_cell(&t, isfinite(spread) ? "± %s" : "%s", page_spread(p, row->spread, spread).text);
        html_row_end(&t);
    }
    html_table_end(&t);
}

/* The number alone: its unit stands at the head of the column. */
static void number_cell(html_table *t, const page *p, quantity q, double v)
{
    const page_value value = page_show(p, q, v);
    html_cell(t, "%.*s", isfinite(v) ? (int)strcspn(value.text, " ") : SHOWN_SIZE, value.text);
}

static void write_days(FILE *out, const page *p)
{
    static const page_reading columns[] = {READ_SUCTION_PRESSURE, READ_SUCTION, READ_SUPERHEAT,
                                           READ_LIQUID_PRESSURE,  READ_SUPPLY,  READ_SPLIT};
    static const char *const us[] = {"Outdoors",      "Suction, psig", "Sat. suction, °F",
                                     "Superheat, °F", "Liquid, psig",  "Supply, °F",
                                     "Split, °F"};
    static const char *const metric[] = {"Outdoors",     "Suction, kPa gauge", "Sat. suction, °C",
                                         "Superheat, K", "Liquid, kPa gauge",  "Supply, °C",
                                         "Split, K"};
    enum { N = sizeof columns / sizeof columns[0] };
    html_table t;
    html_table_begin(&t, out, "days", "On other days, return air as on the design day", N + 1,
                     p->metric ? metric : us);
    for (int d = 0; d < PAGE_DAYS; d++) {
        const page_day *day = &p->readings.day[d];
        html_cell(&t, "%s", page_about(p, Q_TEMPERATURE, day->T_out).text);
        for (int i = 0; i < N && day->has; i++)
            number_cell(&t, p, page_reading_of(columns[i])->value, day->v[columns[i]]);
        if (!day->has) html_cell(&t, "no balance");
        html_row_end(&t);
    }
    html_table_end(&t);
}

static void write_wet_bulb(FILE *out, const page *p)
{
    const page_readings *r = &p->readings;
    const double step = p->metric ? 1 : 1 / CT_F_PER_K;
    if (!r->has_wet_bulb) return;
    fputs("<p>", out);
    html_say(out, "Measure the return wet bulb first (%s here).",
             SHOW(Q_TEMPERATURE, r->T_return_wet));
    html_say(
        out, " For each %s it is higher, expect the suction pressure %s and ",
        p->metric ? "1 K" : "1 °F",
        page_difference(p, Q_PRESSURE_GAUGE, r->suction_per_wet * step, "higher", "lower").text);
    html_say(out, "the temperature split %s.",
             page_difference(p, Q_DELTA_T, r->split_per_wet * step, "larger", "smaller").text);
    fputs("</p>\n", out);
}

/* Least superheat at the coil over the days shown; common practice wants 5 F, no source. */
static void write_flooding(FILE *out, const page *p)
{
    double least = p->readings.v[READ_SUPERHEAT_COIL];
    for (int i = 0; i < PAGE_DAYS; i++)
        if (p->readings.day[i].has) least = fmin(least, p->readings.day[i].v[READ_SUPERHEAT_COIL]);
    if (least * CT_F_PER_K >= 5) return;
    html_element(out, "p", NULL,
                 "✗ Superheat at the coil falls to %s: liquid may reach the compressor. Read it "
                 "first; a smaller piston or a valve mends it.",
                 SHOW(Q_DELTA_T, least));
}

static void write_reading_notes(FILE *out, const page *p)
{
    const bool valve = p->at.system.meter.kind == CT_METER_VALVE;
    write_flooding(out, p);
    write_wet_bulb(out, p);
    if (ct_refrigerant_is_blend(p->j->refrigerant))
        html_element(
            out, "p", NULL,
            "%s is a blend: read superheat from its dew and subcooling from its bubble scale.",
            ct_refrigerant_name(p->j->refrigerant));
    html_element(out, "p", NULL,
                 "Read after 15 minutes of steady running, filter clean, panels on; pressures at "
                 "the service valves outdoors. %s",
                 valve ? "Set the charge by subcooling; the valve sets the superheat."
                       : "With a piston set the charge by the maker's superheat table; the "
                         "superheat moves with the weather.");
}

static void write_how_far(FILE *out)
{
    html_element(
        out, "p", "note",
        "Off by up to: coil and condenser conductance ± 10 %%, compressor flow ± 5 %% (a "
        "nameplate good to 3 %%, and wear), a piston's bore ± 2 %%, subcooling ± 3 °F and airflow "
        "± 10 %% were moved in the model one at a time; half of each spread and the instruments' "
        "errors (gauges 1 %% and 1 or 2 psi, thermometers 1 °F, static 0.02 in of water, watts "
        "5 %%) are joined as the root of the sum of squares. Superheat never tighter than 5 °F, "
        "subcooling 3 °F: ANSI/ACCA 5, from memory, unconfirmed. A reading outside is a reason to "
        "look, not a verdict; the maker's chart goes first.");
}

void page_write_readings(FILE *out, const page *p)
{
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "Readings at start-up");
    if (!p->pick->found)
        html_element(out, "p", NULL,
                     "No speed passes; these are the readings at %s, which carries most.",
                     page_speed(p, p->p).text);
    if (p->readings.has) {
        fputs("<div class=\"two wide\">\n<div>\n", out);
        write_expected(out, p);
        fputs("</div>\n<div>\n", out);
        write_days(out, p);
        write_reading_notes(out, p);
        fputs("</div>\n</div>\n", out);
        write_how_far(out);
    } else
        html_element(out, "p", NULL,
                     "The equipment does not settle, so there is nothing to expect.");
    fputs("</section>\n", out);
}

/* ---- Cautions -------------------------------------------------------------------- */

static void caution(FILE *out, bool applies, const char *text)
{
    if (applies) html_element(out, "li", NULL, "%s", text);
}

/* What was found about refrigerant, valve and pressures; it begins small to follow other words. */
static void write_finding(FILE *out, const page *p, int bit)
{
    char *text = NULL, *nice = NULL;
    size_t size;
    FILE *stream = open_memstream(&text, &size);
    if (!stream) return;
    check_explain(stream, bit, &p->checks, p->j->c, p->j->refrigerant, p->unit, p->metric);
    if (fclose(stream) == 0 && size > 0 && (nice = malloc(2 * size + 8))) {
        page_degrees(nice, 2 * size + 8, text);
        html_element(out, "li", NULL, "%s%c%s.", check_refuses(bit) ? "✗ " : "",
                     toupper((unsigned char)nice[0]), nice + 1);
    }
    free(nice);
    free(text);
}

static void write_findings(FILE *out, const page *p)
{
    for (int bit = 0; bit < CHECKS; bit++)
        if (p->has_checks && p->checks.found & 1u << bit) write_finding(out, p, bit);
}

void page_write_cautions(FILE *out, const page *p)
{
    const ct_case *c = p->j->c;
    const bool flammable = strcmp(ct_refrigerant_safety(p->j->refrigerant), "A1") != 0;
    const bool heat = c->limits.V_heat_min.has || c->limits.Q_furnace.has;
    const bool ducts = c->site.has_around_duct;
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "Cautions");
    fputs("<ul class=\"flow\">\n", out);
    caution(out, true,
            "Local codes and the makers' instructions go before everything on this page.");
    caution(out, true,
            "Refrigerant work is for licensed people under local law. Recover what is in the "
            "system; never vent it, and never mix refrigerants or oils.");
    caution(out, true,
            "Switch off and lock out the power, and test that it is dead, before opening a panel; "
            "let capacitors discharge.");
    write_findings(out, p);
    caution(
        out, flammable,
        "Flammable refrigerant: no ignition source, ventilate, tools and leak detector made for "
        "it. Never put it into equipment made for another refrigerant.");
    caution(out, !flammable,
            "Do not change to a flammable (A2L) refrigerant: this equipment is not made for it.");
    caution(out, heat,
            "Electric heat or a furnace on this blower: keep the heating speed at the airflow its "
            "maker asks for; the limits table tells whether the cooling speed would do.");
    caution(out, !heat,
            "No electric heat or furnace is stated. If there is one, keep the heating speed at the "
            "airflow its maker asks for; it was not checked.");
    caution(out, ducts,
            "Slower air is colder air: see the limits table for ducts sweating, seal and insulate "
            "them, and look at them on a damp day.");
    caution(out, !ducts,
            "Slower air is colder air, and ducts may sweat. The air around the ducts is not "
            "stated, so that was not checked.");
    fputs("</ul>\n</section>\n", out);
}

/* ---- Foot ------------------------------------------------------------------------ */

static bool invented(const ct_job *about)
{
    return strcasestr(about->notes, "invented") || strcasestr(about->title, "invented");
}

void page_write_foot(FILE *out, const page *p)
{
    fputs("</main>\n<footer>\n", out);
    html_element(
        out, "p", "note",
        "%sMade by coiltrim %s from a model calibrated to the nameplate. It knows steady "
        "running only: no frost growing, no dirt, no wrong charge, no leaking ducts, no losses "
        "of the liquid line. A calculation, not a rating and not a measurement.",
        invented(&p->j->c->job) ? "Example: the data are invented; no real house, person or "
                                  "product. "
                                : "",
        COILTRIM_VERSION);
    fputs("</footer>\n</body>\n</html>\n", out);
}
