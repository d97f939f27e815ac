#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/html.h"
#include "base/paragraph.h"
#include "base/units.h"
#include "judge/notes.h"
#include "page/page.h"
#include "show/switch_words.h"

#define SHOW(q, v) page_show(p, q, v).text

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
        if (page_passes(p)) html_cell(t, "–");
        html_row_end(t);
    }
}

/* Least superheat of a piston that is good at this place, K: below it liquid may reach the
 * compressor, so no reading there is good, however far off the expected one may be. 0 with a valve,
 * which closes. */
static double least_good(const page *p, page_reading r)
{
    const double *v = p->readings.v;
    if (p->at.system.meter.kind != CT_METER_ORIFICE) return 0;
    if (r == READ_SUPERHEAT_COIL) return CT_SUPERHEAT_LITTLE;
    return r == READ_SUPERHEAT ? CT_SUPERHEAT_LITTLE + v[r] - v[READ_SUPERHEAT_COIL] : 0;
}

/* How far a reading may be off. */
static void good_cell(html_table *t, const page *p, page_reading r)
{
    const page_reading_row *row = page_reading_of(r);
    const double v = p->readings.v[r], spread = p->readings.tolerance[r], least = least_good(p, r);
    const page_value low = page_reading_value(p, row->value, least);
    if (!isfinite(spread))
        html_cell(t, "%s", page_spread(p, row->spread, spread).text);
    else if (!(least > 0) || v - spread >= least)
        html_cell(t, "± %s", page_spread(p, row->spread, spread).text);
    else if (v <= least)
        html_cell(t, "at least %s", low.text);
    else
        html_cell(t, "%.*s–%s", (int)strcspn(low.text, " "), low.text,
                  page_reading_value(p, row->value, v + spread).text);
}

/* A job that must not be done has no good readings. */
static void write_expected(FILE *out, const page *p)
{
    static const char *const headings[] = {"Reading", "Expected", "Good within", "Measured"},
                             *const without[] = {"Reading", "Expected", "Measured"};
    const bool good = page_passes(p);
    html_table t;
    html_table_begin(&t, out, "blanks", "On the design day", good ? 4 : 3,
                     good ? headings : without);
    write_conditions(&t, p);
    for (int i = 0; i < READ_COUNT; i++) {
        const page_reading_row *row = page_reading_of((page_reading)i);
        const double v = p->readings.v[i];
        /* "kPa gauge" at each value would be too wide. */
        const bool gauge = p->metric && row->value == Q_PRESSURE_GAUGE;
        html_cell(&t, gauge ? "%s, gauge" : "%s", row->name);
        html_cell(&t, "%s", (gauge ? page_spread : page_reading_value)(p, row->value, v).text);
        if (good) good_cell(&t, p, (page_reading)i);
        html_row_end(&t);
    }
    html_table_end(&t);
}

/* The number alone: its unit is at the head of the column. */
static void number_cell(html_table *t, const page *p, quantity q, double v)
{
    const page_value value = page_reading_value(p, q, v);
    html_cell(t, "%.*s", isfinite(v) ? (int)strcspn(value.text, " ") : SHOWN_SIZE, value.text);
}

static void write_days(FILE *out, const page *p)
{
    static const page_reading columns[] = {READ_SUCTION_PRESSURE, READ_SUCTION, READ_SUPERHEAT,
                                           READ_LIQUID_PRESSURE, READ_SPLIT};
    static const char *const us[] = {"Outdoors",      "Suction, psig", "Sat. suction, °F",
                                     "Superheat, °F", "Liquid, psig",  "Split, °F"};
    static const char *const metric[] = {"Outdoors",     "Suction, kPa", "Sat. suction, °C",
                                         "Superheat, K", "Liquid, kPa",  "Split, K"};
    enum { N = sizeof columns / sizeof columns[0] };
    html_table t;
    html_table_begin(&t, out, "days",
                     p->metric ? "On other days, with the same return air (gauge pressures)"
                               : "On other days, with the same return air",
                     N + 1, p->metric ? metric : us);
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
        p->metric ? "1\u00a0K" : "1\u00a0°F", /* a line does not end between them */
        page_difference(p, Q_PRESSURE_GAUGE, r->suction_per_wet * step, "higher", "lower").text);
    html_say(out, "the temperature split %s.",
             page_difference(p, Q_DELTA_T, r->split_per_wet * step, "larger", "smaller").text);
    fputs("</p>\n", out);
}

bool page_piston_risks(const ct_point *point)
{
    return point->notes & CT_NOTE_LITTLE_SUPERHEAT;
}

/* In numbers what the note says. */
void page_write_flooding(FILE *out, const page *p)
{
    const bool now = p->p->notes & CT_NOTE_NEAR_FLOOD;
    if (!page_piston_risks(p->p)) return;
    html_element(out, "p", NULL,
                 "✗ Superheat at the coil falls to %s at %s outdoors: liquid may reach the "
                 "compressor. Check it first. A %svalve fixes it.",
                 SHOW(Q_DELTA_T, now ? p->p->balance.superheat : p->p->superheat_hot),
                 SHOW(Q_TEMPERATURE, now ? p->at.T_out : p->p->T_hot),
                 now ? "smaller piston or a " : "");
}

static void write_reading_notes(FILE *out, const page *p)
{
    const bool valve = p->at.system.meter.kind == CT_METER_VALVE;
    page_write_flooding(out, p);
    write_wet_bulb(out, p);
    if (ct_refrigerant_is_blend(p->j->refrigerant))
        html_element(
            out, "p", NULL,
            "%s is a blend. Use its dew scale for superheat and its bubble scale for subcooling.",
            ct_refrigerant_name(p->j->refrigerant));
    html_element(out, "p", NULL,
                 "Read after 15 minutes of steady running%s, filter clean and panels on, pressures "
                 "at the outdoor service valves. %s",
                 p->j->c->outdoor.low.has ? " on the high stage" : "",
                 valve ? "Set the charge by subcooling. The valve sets the superheat."
                       : "With a piston, set the charge by the manufacturer's superheat table. The "
                         "superheat changes with the weather.");
}

static void write_how_far(FILE *out, const page *p)
{
    const bool m = p->metric;
    if (!page_passes(p)) return;
    html_element(out, "p", "note screen",
                 "How “good within” was found: coil and condenser conductance ± 10%%, compressor "
                 "flow ± 5%% (3%% for the nameplate, the rest for wear), a piston's bore ± 2%%, "
                 "subcooling ± %s and airflow ± 10%% were changed in the model one at a time. "
                 "Half of each change and the instrument errors (gauges 1%% and %s, "
                 "thermometers %s, static %s, watts 5%%) are combined as the root "
                 "of the sum of squares. Superheat is never tighter than %s and subcooling never "
                 "tighter than %s (ANSI/ACCA 5, from memory, unconfirmed). Behind a piston no "
                 "superheat below %s at the coil is good (common practice, no source). A reading "
                 "outside is a reason to look, not proof of a fault. The manufacturer's chart "
                 "comes first.",
                 m ? "1.7 K" : "3 °F", m ? "7 or 14 kPa" : "1 or 2 psi", m ? "0.6 K" : "1 °F",
                 m ? "5 Pa" : "0.02 in of water", m ? "2.8 K" : "5 °F", m ? "1.7 K" : "3 °F",
                 m ? "2.8 K" : "5 °F");
}

/* Fan, run-on and controls, by what each makes of the humidity. */
static void write_switches(FILE *out, const page *p)
{
    paragraph text;
    FILE *t;
    if (!p->has_switches || !page_passes(p) || !(t = paragraph_open(&text))) return;
    switches_explain(t, &p->switches, p->j->c, p->metric);
    fclose(t);
    char *nice = page_nice(text.text);
    html_element(out, "p", NULL, "Set the switches so. %s", nice ? nice : "");
    free(nice);
}

void page_write_start_up(FILE *out, const page *p)
{
    fputs("<section id=\"start-up\">\n", out);
    html_element(out, "h2", NULL, "Readings at start-up");
    if (!p->pick->found)
        html_element(out, "p", NULL,
                     "No speed passes. These are the readings at %s, which comes nearest.",
                     page_speed(p, p->p).text);
    if (p->readings.has) {
        fputs("<div class=\"two wide\">\n<div>\n", out);
        write_expected(out, p);
        fputs("</div>\n<div>\n", out);
        write_days(out, p);
        write_reading_notes(out, p);
        fputs("</div>\n</div>\n", out);
        write_switches(out, p);
        write_how_far(out, p);
    } else
        html_element(
            out, "p", NULL,
            "The system finds no steady operating point, so there are no readings to expect.");
    fputs("</section>\n", out);
}
