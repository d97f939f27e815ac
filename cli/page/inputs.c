#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/html.h"
#include "base/number.h"
#include "base/paragraph.h"
#include "base/units.h"
#include "case/casefile.h"
#include "judge/oddities.h"
#include "page/page.h"
#include "show/charge_words.h"
#include "show/tuned_words.h"
#include "show/verdict.h"
#include "show/ways_words.h"
#include "sweep/text.h"

#define SHOW(q, v) page_show(p, q, v).text
#define ABOUT(q, v) page_about(p, q, v).text

static void input(FILE *out, const char *name, const char *value)
{
    fputs("<li>", out);
    html_element(out, "b", NULL, "%s:", name);
    html_say(out, " %s", value);
    fputs("</li>\n", out);
}

static void input_maybe(FILE *out, const page *p, const char *name, quantity q, const ct_maybe *v)
{
    if (v->has) input(out, name, ABOUT(q, v->v));
}

/* What was assumed has its own list. */
static bool is_given(const page *p, const char *key)
{
    const ct_case_report *report = p->j->report;
    for (int i = 0; i < report->n_assumed; i++)
        if (strcmp(report->assumed[i].key, key) == 0) return false;
    return true;
}

/* The same of a key of the page's indoor unit, "coil.size". */
static bool unit_is_given(const page *p, const char *key)
{
    char path[64];
    if (p->unit)
        snprintf(path, sizeof path, "candidates[%d].%s", p->unit, key);
    else
        snprintf(path, sizeof path, "indoor.%s", key);
    return is_given(p, path);
}

static void input_given(FILE *out, const page *p, const char *name, const char *key,
                        const char *value)
{
    if (is_given(p, key)) input(out, name, value);
}

static void inputs_of_house(FILE *out, const page *p)
{
    const ct_case *c = p->j->c;
    const ct_house *house = &c->house;
    input_given(out, p, "Altitude", "site.altitude", SHOW(Q_LENGTH, c->site.altitude));
    input_given(out, p, "Outdoors, design day", "site.outdoor_dry_bulb",
                SHOW(Q_TEMPERATURE, c->site.T_outdoor));
    input_given(out, p, "Return air", "site.indoor_air.dry_bulb",
                SHOW(Q_TEMPERATURE, c->site.indoor.T));
    input_given(out, p, "Return humidity", "site.indoor_air.relative_humidity",
                ABOUT(Q_FRACTION, ct_air_rh(&p->at.indoor)));
    input_given(out, p, "Sensible load", "house.sensible_load", SHOW(Q_HEAT, house->Q_sensible));
    input_given(out, p, "Latent load", "house.latent_load", SHOW(Q_HEAT, house->Q_latent));
    input_given(out, p, "Margin on the sensible load", "house.margin",
                ABOUT(Q_FRACTION, house->margin));
    input_maybe(out, p, "Infiltration", Q_AIRFLOW, &house->infiltration);
    input_maybe(out, p, "Highest humidity allowed", Q_FRACTION, &house->rh_ceiling);
    input_maybe(out, p, "No cooling needed below", Q_TEMPERATURE, &house->T_balance);
    if (c->has_duct) {
        input(out, "Duct static, measured", SHOW(Q_STATIC, c->duct.dp));
        if (p->j->ways.flow_taken > CT_FLOW_ENTERED)
            input(out, "Duct airflow, found as below", SHOW(Q_AIRFLOW, c->duct.V));
        else
            input_given(out, p, "Duct airflow at that static", "duct.airflow",
                        SHOW(Q_AIRFLOW, c->duct.V));
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
    input_given(out, p, "Rated net capacity", "outdoor.rated_capacity", SHOW(Q_HEAT, u->Q_net));
    input_given(out, p, "Rated EER", "outdoor.rated_eer", SHOW(Q_EER, u->EER));
    if (is_given(p, "outdoor.rated_seer"))
        input_maybe(out, p, "SEER on its label", Q_EER, &u->SEER_label);
    input_given(out, p, "Rated airflow, standard air", "outdoor.rated_airflow",
                SHOW(Q_AIRFLOW, u->V_rated_std));
    if (u->low.has) {
        input(out, "Low stage, net capacity", SHOW(Q_HEAT, u->low.Q_net));
        input(out, "Low stage, EER", SHOW(Q_EER, u->low.EER));
    }
    if (job_unit_is_named(unit)) input(out, "Indoor unit", page_short(unit->name, 40).text);
    if (unit->coil.has_geometry) {
        input(out, "Coil", "from its own dimensions");
    } else if (unit_is_given(p, "coil.size")) {
        snprintf(text, sizeof text, "%.3g times the matched coil, more %s", unit->coil.size,
                 unit->coil.growth == CT_GROW_FACE ? "face area" : "rows");
        if (!(fabs(unit->coil.size - 1) > 0))
            snprintf(text, sizeof text, "same as the matched coil");
        input(out, "Coil size", text);
    } else if (unit->coil.tons.has) {
        snprintf(text, sizeof text, "%.3g ton, as it is sold", unit->coil.tons.v);
        input(out, "Coil size", text);
    } else if (unit->coil.sizes_up.has) {
        snprintf(text, sizeof text, "%+.0f in the row coils are sold in", unit->coil.sizes_up.v);
        input(out, "Coil size", text);
    }
    if (unit->meter.kind == CT_METER_VALVE) {
        if (unit_is_given(p, "metering.kind")) input(out, "Metering", "expansion valve");
    } else if (unit->meter.bore.has) {
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

/* "candidates[2].coil.growth" and "way_in[1].frame" as their rows have it: "indoor.coil.growth",
 * "way_in[].frame". */
static void row_path(const char *key, char *path, size_t size)
{
    size_t n = 0;
    if (starts_with(key, "candidates[")) {
        n = (size_t)snprintf(path, size, "indoor");
        key += strcspn(key, "]") + 1;
    }
    for (; *key && n + 1 < size; key++)
        if (!isdigit((unsigned char)*key) || n == 0 || path[n - 1] != '[') path[n++] = *key;
    path[n] = '\0';
}

/* False: no such key, which is not the reader's fault but ours. */
static bool row_of(const char *key, ct_key_row *row)
{
    char path[96];
    row_path(key, path, sizeof path);
    for (int i = 0; ct_casefile_key(i, row); i++)
        if (strcmp(row->key, path) == 0) return true;
    return false;
}

/* The default in metric units, where its kind has one. */
/* A bore's length in meters, or a coil's drop in kPa, would be shown as 0. */
static quantity fine(quantity q, double v)
{
    if (q == Q_LENGTH && fabs(v) < 0.5) return Q_SIZE;
    if (q == Q_PRESSURE_DROP && fabs(v) < 2000) return Q_STATIC;
    return q;
}

static bool metric_value(const page *p, const ct_assumed *a, const ct_key_row *row, page_value *v)
{
    static const struct {
        const char *kind;
        quantity q;
    } kinds[] = {{"temperature difference,", Q_DELTA_T},
                 {"temperature,", Q_TEMPERATURE},
                 {"airflow,", Q_AIRFLOW},
                 {"airflow per ton,", Q_AIRFLOW_PER_TON},
                 {"velocity,", Q_VELOCITY},
                 {"length,", Q_LENGTH},
                 {"pressure,", Q_PRESSURE_DROP}};
    for (size_t i = 0; p->metric && isfinite(a->v) && i < sizeof kinds / sizeof kinds[0]; i++)
        if (starts_with(row->unit, kinds[i].kind)) {
            *v = page_show(p, fine(kinds[i].q, a->v), a->v);
            return true;
        }
    return false;
}

/* The range looked at and clearances move no number of the page: they are not printed. */
static bool moves_nothing(const char *key)
{
    return starts_with(key, "sweep.") || starts_with(key, "space.") || starts_with(key, "way_in") ||
           strstr(key, ".cabinet.");
}

/* Three digits are what a usual value deserves: "71.7%" rather than "71.71%". */
static void few_digits(char *text, size_t size)
{
    const char *rest;
    char rounded[200];
    double v;
    if (!ct_number_read(text, &v, &rest) || !memchr(text, '.', (size_t)(rest - text))) return;
    snprintf(rounded, sizeof rounded, "%.*f%s", fabs(v) < 10 ? 2 : fabs(v) < 100 ? 1 : 0, v, rest);
    if (strlen(rounded) < strlen(text)) snprintf(text, size, "%s", rounded);
}

/* 1200 cfm as the rest of the sheet has it: 1,200 cfm. A number without a unit may be a year. */
static void group_thousands(char *text, size_t size)
{
    const size_t digits = strspn(text, "0123456789");
    if (digits < 4 || digits > 6 || text[digits] != ' ' || strlen(text) + 2 > size) return;
    char *where = text + digits - 3;
    memmove(where + 1, where, strlen(where) + 1);
    *where = ',';
}

static void no_underscores(char *text)
{
    while ((text = strchr(text, '_')))
        *text = ' ';
}

static void write_assumption(FILE *out, const page *p, const ct_assumed *a)
{
    ct_key_row row;
    page_value v;
    char text[2 * sizeof a->text];
    const bool known = row_of(a->key, &row);
    char help[160];
    snprintf(help, sizeof help, "%s%s", starts_with(a->key, "uncertainty.") ? "Doubt " : "",
             known ? row.help : a->key);
    help[strcspn(help, ";")] = '\0'; /* what follows is for who writes the key */
    page_degrees(text, sizeof text, a->text);
    no_underscores(text);
    few_digits(text, sizeof text);
    group_thousands(text, sizeof text);
    no_underscores(help);
    fputs(moves_nothing(a->key) ? "<li class=\"screen\">" : "<li>", out);
    html_say(out, "%c%s: ", toupper((unsigned char)help[0]), help + 1);
    html_element(out, "b", NULL, "%s", known && metric_value(p, a, &row, &v) ? v.text : text);
    html_element(out, "span", "why", " (%s%s%s)", a->key, a->why[0] ? "; " : "", a->why);
    fputs("</li>\n", out);
}

static void write_assumed(FILE *out, const page *p)
{
    const ct_case_report *report = p->j->report;
    html_element(out, "h3", NULL, "Assumed, or found from what went in");
    fputs("<ul class=\"list assumed\">\n", out);
    for (int i = 0; i < report->n_assumed; i++)
        if (concerns(p, report->assumed[i].key)) write_assumption(out, p, &report->assumed[i]);
    fputs("</ul>\n", out);
    const char *charge = charge_words(p->j->c, p->unit);
    if (charge) html_element(out, "p", NULL, "%s", charge);
}

static void write_doubts(FILE *out, const page *p)
{
    char line[PLAUSIBILITY_LINES][PLAUSIBILITY_SIZE];
    const int n = sweep_calibration_doubts(p->j, line);
    for (int i = 0; i < n; i++)
        html_element(out, "p", NULL, "Check this: %s.", line[i]);
}

/* Input that can be true but seldom is. */
static void write_questions(FILE *out, const page *p)
{
    const verdict v = verdict_of(p->j->c, p->j->refrigerant, page_indoor(p), p->metric);
    for (int bit = 0; bit < CT_ODD_COUNT; bit++) {
        paragraph text;
        FILE *t = paragraph_open(&text);
        if (!t) return;
        const bool asked = verdict_odd(t, &v, bit);
        fclose(t);
        char *nice = asked ? page_nice(text.text) : NULL;
        if (nice)
            html_element(out, "p", NULL, "? Question: %c%s.", toupper((unsigned char)nice[0]),
                         nice + 1);
        free(nice);
    }
}

/* Load and airflow that nobody entered, and where the static is lost. */
static void write_ways(FILE *out, const page *p)
{
    for (int topic = 0; topic < WAYS_TOPICS; topic++) {
        paragraph text;
        FILE *t = paragraph_open(&text);
        if (!t) return;
        const bool any = ways_explain(t, (ways_topic)topic, p->j->c, &p->j->ways, p->metric);
        fclose(t);
        char *nice = any ? page_nice(text.text) : NULL;
        if (nice) html_element(out, "p", NULL, "%s%s", ways_heading((ways_topic)topic), nice);
        free(nice);
    }
}

/* Corrections that move every figure of the page. */
static void input_tuned(FILE *out, const page *p)
{
    paragraph text;
    FILE *t = paragraph_open(&text);
    if (!t) return;
    const bool any = tuned_say(t, &p->j->c->tuning);
    fclose(t);
    if (any) input(out, "Tuned by readings", text.text);
}

void page_write_inputs(FILE *out, const page *p)
{
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "What went in");
    fputs("<ul class=\"list\">\n", out);
    inputs_of_house(out, p);
    inputs_of_equipment(out, p);
    input_tuned(out, p);
    fputs("</ul>\n", out);
    write_ways(out, p);
    write_doubts(out, p);
    write_questions(out, p);
    write_assumed(out, p);
    fputs("</section>\n", out);
}
