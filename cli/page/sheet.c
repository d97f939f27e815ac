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
    input_maybe(out, p, "Highest humidity allowed", Q_FRACTION, &house->rh_ceiling);
    input_maybe(out, p, "No cooling needed below", Q_TEMPERATURE, &house->T_balance);
    if (c->has_duct) {
        input(out, "Duct static, measured", SHOW(Q_STATIC, c->duct.dp));
        input(out, "Duct airflow, measured", SHOW(Q_AIRFLOW, c->duct.V));
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
        input(out, "Coil", "from its own dimensions");
    else {
        snprintf(text, sizeof text, "%.3g times the matched coil, more %s", unit->coil.size,
                 unit->coil.growth == CT_GROW_FACE ? "face area" : "rows");
        if (!(fabs(unit->coil.size - 1) > 0))
            snprintf(text, sizeof text, "same as the matched coil");
        input(out, "Coil size", text);
    }
    if (unit->meter.kind == CT_METER_VALVE)
        input(out, "Metering", "thermostatic expansion valve");
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
    html_say(out, "Assumed, because the case file does not say");
    html_element(out, "span", "paper", " (reasons: see this page on a screen)");
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
        html_element(out, "p", NULL, "Check this: %s.", line[i]);
}

void page_write_inputs(FILE *out, const page *p)
{
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "Input values");
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
    static const char *const headings[] = {"Reading", "Expected", "Good within", "Measured"};
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

/* The number alone: its unit is at the head of the column. */
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
    html_table_begin(&t, out, "days", "On other days, with the same return air", N + 1,
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
        out, " For each %s above that, expect the suction pressure %s and ",
        p->metric ? "1 K" : "1 °F",
        page_difference(p, Q_PRESSURE_GAUGE, r->suction_per_wet * step, "higher", "lower").text);
    html_say(out, "the temperature split %s.",
             page_difference(p, Q_DELTA_T, r->split_per_wet * step, "larger", "smaller").text);
    fputs("</p>\n", out);
}

/* Least superheat at the coil over the days shown; near flooding is as the limits have it. */
static void write_flooding(FILE *out, const page *p)
{
    double least = p->readings.v[READ_SUPERHEAT_COIL];
    for (int i = 0; i < PAGE_DAYS; i++)
        if (p->readings.day[i].has) least = fmin(least, p->readings.day[i].v[READ_SUPERHEAT_COIL]);
    if (least >= CT_SUPERHEAT_LITTLE) return;
    html_element(out, "p", NULL,
                 "✗ Superheat at the coil falls to %s: liquid may reach the compressor. Check it "
                 "first. A smaller piston or a valve fixes it.",
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
            "%s is a blend. Use its dew scale for superheat and its bubble scale for subcooling.",
            ct_refrigerant_name(p->j->refrigerant));
    html_element(out, "p", NULL,
                 "Take the readings after 15 minutes of steady running, with a clean filter and "
                 "the panels on. Read the pressures at the outdoor service valves. %s",
                 valve ? "Set the charge by subcooling. The valve sets the superheat."
                       : "With a piston, set the charge by the manufacturer's superheat table. The "
                         "superheat changes with the weather.");
}

static void write_how_far(FILE *out)
{
    html_element(out, "p", "note",
                 "How “good within” was found: coil and condenser conductance ± 10 %%, compressor "
                 "flow ± 5 %% (3 %% for the nameplate, the rest for wear), a piston's bore ± 2 %%, "
                 "subcooling ± 3 °F and airflow ± 10 %% were changed in the model one at a time. "
                 "Half of each change and the instrument errors (gauges 1 %% and 1 or 2 psi, "
                 "thermometers 1 °F, static 0.02 in of water, watts 5 %%) are combined as the root "
                 "of the sum of squares. Superheat is never tighter than 5 °F and subcooling never "
                 "tighter than 3 °F (ANSI/ACCA 5, from memory, unconfirmed). A reading outside is "
                 "a reason to look, not proof of a fault. The manufacturer's chart comes first.");
}

void page_write_readings(FILE *out, const page *p)
{
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "Readings at start-up");
    if (!p->pick->found)
        html_element(out, "p", NULL,
                     "No speed passes. These are the readings at %s, which carries the most load.",
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
        html_element(
            out, "p", NULL,
            "The system finds no steady operating point, so there are no readings to expect.");
    fputs("</section>\n", out);
}

/* ---- Cautions -------------------------------------------------------------------- */

static void caution(FILE *out, bool applies, const char *text)
{
    if (applies) html_element(out, "li", NULL, "%s", text);
}

/* What was found about refrigerant, valve and pressures; it begins with a small letter to follow other words. */
static void write_finding(FILE *out, const page *p, int bit)
{
    char *text = NULL, *nice = NULL;
    size_t size;
    FILE *stream = open_memstream(&text, &size);
    if (!stream) return;
    check_explain(stream, bit, &p->checks, page_indoor(p), p->j->refrigerant, p->metric);
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
            "Local codes and the manufacturers' instructions come before everything on this page.");
    caution(out, true,
            "Refrigerant work is for licensed people, under local law. Recover the refrigerant in "
            "the system. Never vent it. Never mix refrigerants or oils.");
    caution(out, true,
            "Before you open a panel, switch off and lock out the power and test that it is off. "
            "Let capacitors discharge.");
    write_findings(out, p);
    caution(out, flammable,
            "Flammable refrigerant: keep ignition sources away, ventilate, and use tools and a "
            "leak detector made for it. Never put it into equipment made for another refrigerant.");
    caution(out, !flammable,
            "Do not change to a flammable (A2L) refrigerant: this equipment is not made for it.");
    caution(out, heat,
            "This blower also serves electric heat or a furnace. Keep the heating speed at the "
            "airflow its manufacturer requires. The limits table shows whether the cooling speed "
            "is enough for it.");
    caution(out, !heat,
            "The case file gives no electric heat or furnace, so none was checked. If there is "
            "one, keep the heating speed at the airflow its manufacturer requires.");
    caution(out, ducts,
            "Slower air is colder air, and ducts may sweat: see the limits table. Seal and "
            "insulate the ducts, and look at them on a damp day.");
    caution(out, !ducts,
            "Slower air is colder air, and ducts may sweat. The case file does not give the air "
            "around the ducts, so this was not checked.");
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
        "%sMade by coiltrim %s with a model fitted to the nameplate. It covers steady running "
        "only: no frost building up, no dirt, no wrong charge, no leaking ducts, no losses in the "
        "liquid line. This is a calculation, not a rating and not a measurement.",
        invented(&p->j->c->job)
            ? "Example: the data are invented. No real house, person or product. "
            : "",
        COILTRIM_VERSION);
    fputs("</footer>\n</body>\n</html>\n", out);
}
