#include "compare/text.h"

#include <math.h>
#include <string.h>

#include "base/paragraph.h"
#include "base/units.h"
#include "show/cells.h"
#include "show/limit_words.h"
#include "show/low_stage_words.h"
#include "show/note_words.h"
#include "show/noted_speeds.h"
#include "show/title.h"
#include "show/tuned_words.h"
#include "show/ways_words.h"

enum { LABEL_WIDTH = 30, ROW_WIDTH = 79, COLUMN_MAX = 12 };

static int column_width(const comparison *k)
{
    const int width = (ROW_WIDTH - LABEL_WIDTH) / (k->n + 1);
    return width < COLUMN_MAX ? width : COLUMN_MAX;
}

/* ---- Table ----------------------------------------------------------------------- */

static double heat_shown(const comparison *k, int i, int u)
{
    if (!compare_fact_at(i)->sign) return shown_number(Q_HEAT, compare_value(k, i, u), k->metric);
    /* As a reader finds it who subtracts the two numbers above. */
    return shown_number(Q_HEAT, compare_own(k, i, u), k->metric) -
           shown_number(Q_HEAT, compare_own(k, i, MATCHED), k->metric);
}

static void put_value(FILE *out, const comparison *k, int i, int u)
{
    const compare_fact *f = compare_fact_at(i);
    const bool metric = k->metric;
    const int width = column_width(k);
    const double v = compare_value(k, i, u);
    char text[32] = "-";
    const quantity_form *form = quantity_for_people(f->q, metric);
    const int decimals = f->decimals < 0 || f->q == Q_TEMPERATURE ? form->decimals : f->decimals;
    const double half_step = 0.5 * pow(10, -decimals);
    /* A difference of humidities has no zero to move. */
    double value = f->sign ? v * form->factor : quantity_show(form, v);
    if (f->q == Q_HEAT && isfinite(v)) value = heat_shown(k, i, u);
    if (fabs(value) < half_step) value = 0;
    if (isfinite(v)) snprintf(text, sizeof text, f->sign ? "%+.*f" : "%.*f", decimals, value);
    fprintf(out, "%*s", width, text);
}

static void put_row(FILE *out, const comparison *k, int i)
{
    const compare_fact *f = compare_fact_at(i);
    const char *unit = quantity_for_people(f->q, k->metric)->unit;
    char label[64];
    bool any = false;
    for (int u = MATCHED; u < k->n; u++)
        any |= !isnan(compare_value(k, i, u));
    if (!any) return;
    snprintf(label, sizeof label, " %s%s%s", f->label, unit[0] ? ", " : "", unit);
    fprintf(out, "%-*.*s", LABEL_WIDTH, LABEL_WIDTH, label);
    for (int u = MATCHED; u < k->n; u++)
        put_value(out, k, i, u);
    fputc('\n', out);
}

static void put_texts(FILE *out, const comparison *k, const char *label,
                      const char *(*text)(const comparison *, int, char[SHOWN_SIZE]))
{
    char buffer[SHOWN_SIZE];
    fprintf(out, "%-*s", LABEL_WIDTH, label);
    for (int u = MATCHED; u < k->n; u++)
        cell_right(out, column_width(k), text(k, u, buffer));
    fputc('\n', out);
}

static const char *letter_text(const comparison *k, int u, char text[SHOWN_SIZE])
{
    (void)k;
    snprintf(text, SHOWN_SIZE, "%c", compare_letter(u));
    return text;
}

static const char *coil_text(const comparison *k, int u, char text[SHOWN_SIZE])
{
    const ct_coil_spec *coil = u == MATCHED ? NULL : &k->j->c->indoor[u].coil;
    if (!coil) return "1.00";
    if (coil->has_geometry) return "own";
    snprintf(text, SHOWN_SIZE, "%.2f%s", coil->size,
             coil->size == 1                ? ""
             : coil->growth == CT_GROW_FACE ? " f"
                                            : " d");
    return text;
}

static const char *device_text(const comparison *k, int u, char text[SHOWN_SIZE])
{
    (void)text;
    return u != MATCHED && k->j->c->indoor[u].meter.kind == CT_METER_ORIFICE ? "piston" : "valve";
}

static const char *tap_text(const comparison *k, int u, char text[SHOWN_SIZE])
{
    (void)text;
    if (u == MATCHED) return "rated";
    if (!k->unit[u].good) return "-";
    const int tap = k->unit[u].row.at.point.tap;
    return tap < 0 ? "-" : k->j->c->indoor[u].blower.tap[tap].name;
}

static const char *verdict_text(const comparison *k, int u, char text[SHOWN_SIZE])
{
    if (u == MATCHED) return "-";
    if (compare_unit_refused(&k->unit[u])) return "NO";
    if (!k->unit[u].good) return "fails";
    snprintf(text, SHOWN_SIZE, "%s%s", k->unit[u].row.pick.found ? "passes" : "fails",
             note_mark(k->unit[u].row.at.point.notes));
    return text;
}

static const char *state_text(const comparison *k, int u, char text[SHOWN_SIZE])
{
    (void)text;
    if (u != MATCHED && !k->unit[u].good) return "-";
    const ct_point *p = u == MATCHED ? &k->matched.at.point : &k->unit[u].row.at.point;
    if (p->meter == CT_METER_NEARLY_FLOODS) return "near flood"; /* as wide as the column */
    return p->meter == CT_METER_UNKNOWN ? "-" : meter_token(p->meter);
}

static void put_heading(FILE *out, const comparison *k, compare_group group)
{
    const ct_case *c = k->j->c;
    char air[SHOWN_SIZE], T[SHOWN_SIZE];
    switch (group) {
    case GROUP_AIR: fputs("At its own pick (R: as rated)\n", out); break;
    case GROUP_DESIGN_DAY:
        fprintf(out, "Design day, %s outdoors\n",
                shown(T, Q_TEMPERATURE, c->site.T_outdoor, k->metric));
        break;
    case GROUP_HOUR:
        fprintf(out, "A damp hour: %.0f%% of the sensible load, room at %.0f%% RH\n",
                100 * c->house.humidity_load, 100 * ct_air_rh(&k->matched.at.point.balance.in));
        break;
    case GROUP_SAME_AIR:
        fprintf(out, "All at the rated airflow, %s, with its blower watts\n",
                shown(air, Q_AIRFLOW_PER_TON, k->matched.at.point.V_std_per_ton, k->metric));
        break;
    case GROUP_GIVEN_UP: fputs("At its pick, compared with the matched pair\n", out); break;
    case GROUP_EFFICIENCY: fputs("Efficiency, with this outdoor unit\n", out); break;
    case GROUP_COST:
    case COMPARE_GROUPS: break;
    }
}

static void print_table(FILE *out, const comparison *k)
{
    put_texts(out, k, "", letter_text);
    put_texts(out, k, " Coil, size", coil_text);
    put_texts(out, k, " Metering device", device_text);
    put_texts(out, k, " Verdict", verdict_text);
    compare_group group = COMPARE_GROUPS;
    for (int i = 0; i < compare_facts_count(); i++) {
        if (compare_fact_at(i)->group != group) {
            group = compare_fact_at(i)->group;
            put_heading(out, k, group);
            if (group == GROUP_AIR) put_texts(out, k, " Blower tap", tap_text);
        }
        put_row(out, k, i);
        if (strcmp(compare_fact_at(i)->name, "superheat") == 0)
            put_texts(out, k, " Metering", state_text);
    }
    fputs("Size: heat-transfer area compared with R; f: more face area, d: more rows.\n"
          "Metering: what the device does at that airflow; -: it has no rating.\n"
          "NO: must not be installed, see above. *: too little superheat, now or on a\n"
          "hotter day; ~: too much; see below.\n",
          out);
}

/* ---- Sentences ------------------------------------------------------------------- */

static void print_outlooks(FILE *out, const comparison *k)
{
    for (int u = 0; u < k->n; u++)
        if (k->unit[u].good) outlook_print(out, &k->unit[u].outlook, compare_letter(u), k->metric);
}

static void print_findings(FILE *out, const comparison *k)
{
    for (int u = 0; u < k->n; u++) {
        const compare_unit *unit = &k->unit[u];
        char first[32];
        if (!unit->good && !verdict_refuses(&unit->verdict)) {
            snprintf(first, sizeof first, "%c, cannot be calculated: ", compare_letter(u));
            paragraph_wrap(out, unit->why, first, 3);
        }
        verdict_print_findings(out, &unit->verdict, compare_letter(u));
    }
}

/* What keeps the speeds of a unit without a pick from passing. */
static void print_failures(FILE *out, const comparison *k)
{
    for (int u = 0; u < k->n; u++) {
        const ct_pick *p = &k->unit[u].row.pick;
        paragraph text;
        FILE *t;
        if (!k->unit[u].good || p->found || p->refused || !(t = paragraph_open(&text))) continue;
        fprintf(t, "%c: none of its %d %s passes (", compare_letter(u), p->n_points,
                p->from_taps ? "blower taps" : "airflows");
        bool any = false;
        for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++)
            if (p->failing[i]) {
                fprintf(t, "%s%s fails at %d", any ? ", " : "", ct_limit_of((ct_limit)i)->name,
                        p->failing[i]);
                any = true;
            }
        fputs("). Shown is the one that comes nearest.", t);
        paragraph_print(&text, out, "", 3);
    }
}

static const char *day_water(char text[SHOWN_SIZE], double kg, const comparison *k)
{
    return shown(text, Q_WATER_DAY, kg, k->metric);
}

/* A unit may take out less than R at the room's humidity and more at the one it settles at, a
 * piston chiefly, whose superheat goes with the air. Figures that seem to disagree need a word. */
static void say_settled(FILE *t, const ct_showing *own, const ct_showing *rated, double dw)
{
    const double rh = own->point.room.rh, rh_rated = rated->point.room.rh;
    fprintf(t, "The house settles at %.1f%% RH, with R at %.1f%%", 100 * rh, 100 * rh_rated);
    const bool apart = fabs(rh - rh_rated) > 0.0005; /* as they are shown */
    fputs(apart && (dw < 0) != (rh > rh_rated) ? ". At that humidity the two trade places." : ".",
          t);
}

/* One unit against the matched pair at the same air: capacity, run, water, humidity. */
static void say_same_air(FILE *t, const comparison *k, int u)
{
    const ct_showing *own = &k->unit[u].row.at_rated, *rated = &k->matched.at;
    const double Q = own->point.balance.Q_sens_net, L = own->point.balance.Q_lat;
    const double dw = own->hour.water_per_day - rated->hour.water_per_day;
    char a[SHOWN_SIZE], b[SHOWN_SIZE], c[SHOWN_SIZE], d[SHOWN_SIZE];
    fprintf(t, "%c cools with %s and R with %s", compare_letter(u), shown(a, Q_HEAT, Q, k->metric),
            shown(b, Q_HEAT, rated->point.balance.Q_sens_net, k->metric));
    fprintf(t, ", so it runs %.1f minutes an hour and R %.1f. ", 60 * own->hour.run,
            60 * rated->hour.run);
    fprintf(t, "While it runs it dries with %s (R: %s)", shown(c, Q_HEAT, L, k->metric),
            shown(d, Q_HEAT, rated->point.balance.Q_lat, k->metric));
    fprintf(t, ". Over a day it removes water at %s", day_water(a, own->hour.water_per_day, k));
    fprintf(t, " (R: %s), %s %s. ", day_water(b, rated->hour.water_per_day, k),
            day_water(c, fabs(dw), k), dw < 0 ? "less" : "more");
    if (own->point.has_room && rated->point.has_room) say_settled(t, own, rated, dw);
}

static void print_same_air(FILE *out, const comparison *k)
{
    const ct_showing *rated = &k->matched.at;
    char air[SHOWN_SIZE], in[SHOWN_SIZE];
    paragraph text;
    FILE *t;
    /* Two stages have two airflows: the sums below are of one. */
    if (k->j->c->outdoor.low.has || !rated->has_hour || !(t = paragraph_open(&text))) return;
    const double comes = (rated->hour.water + rated->hour.residual) * 86400;
    fprintf(t,
            "At the same airflow (%s) and the same load, a coil that cools faster runs less, and a "
            "coil that is not running does not dry the air. ",
            shown(air, Q_AIRFLOW_PER_TON, rated->point.V_std_per_ton, k->metric));
    if (comes > 0.0)
        fprintf(t,
                "At this humidity %s of water comes into the house, whatever the coil. A coil that "
                "removes more makes the house drier, one that removes less makes it damper, until "
                "both are equal: there it settles.",
                day_water(in, comes, k));
    else
        fprintf(t,
                "At this humidity the outdoor air takes %s of water out of the house, whatever the "
                "coil: the house gets drier with any of them.",
                day_water(in, -comes, k));
    fputc('\n', out);
    paragraph_print(&text, out, "", 0);
    for (int u = 0; u < k->n; u++) {
        const compare_unit *unit = &k->unit[u];
        if (!unit->good || !unit->row.at_rated.has_hour || !(t = paragraph_open(&text))) continue;
        say_same_air(t, k, u);
        paragraph_print(&text, out, "  ", 4);
    }
}

/* Each unit's own speed for it. */
static void print_low_stage(FILE *out, const comparison *k)
{
    paragraph text;
    FILE *t;
    if (!k->j->c->outdoor.low.has || !(t = paragraph_open(&text))) return;
    for (int u = 0; u < k->n; u++) {
        const compare_unit *unit = &k->unit[u];
        if (!unit->good) continue;
        fprintf(t, "%s%c ", u ? "; " : "", 'A' + u);
        if (unit->job.has_low)
            low_stage_speed(t, &unit->job, k->metric);
        else
            fputs("no speed passes", t);
    }
    fputs(". The table is of the high stage; hour and humidity are of both.", t);
    fputc('\n', out);
    paragraph_print(&text, out, "Low stage, run first: ", 2);
}

static void print_season(FILE *out, const comparison *k)
{
    const ct_outdoor_unit *o = &k->j->c->outdoor;
    const double unit = 1 / CT_W_PER_BTUH;
    paragraph text;
    FILE *t = paragraph_open(&text);
    if (!t) return;
    fprintf(t,
            o->low.has ? "SEER by the bins of AHRI 210/240 for two capacities, CD = %.2f; each "
                         "stage's tests are calculated at each unit's airflow and blower watts."
                       : "SEER = EER at the B test x (1 - 0.5 CD), CD = %.2f (AHRI 210/240, one "
                         "speed). The A and B tests are calculated at each unit's airflow and "
                         "blower watts.",
            o->CD);
    if (o->SEER_label.has)
        fprintf(t,
                " The outdoor unit's label says SEER %.1f Btu/Wh. Its EER was found so that the "
                "matched pair returns that label.",
                unit * o->SEER_label.v);
    fputc('\n', out);
    paragraph_print(&text, out, "", 0);
}

static void print_labels(FILE *out, const comparison *k)
{
    for (int u = 0; u < k->n; u++) {
        const ct_maybe label = k->j->c->indoor[u].EER_label;
        char says[SHOWN_SIZE], gets[SHOWN_SIZE];
        paragraph text;
        FILE *t;
        if (!label.has || !(t = paragraph_open(&text))) continue;
        fprintf(t,
                "%c's label, EER %s, is for the outdoor unit it is listed with. It does not apply "
                "to this outdoor unit",
                compare_letter(u), shown(says, Q_EER, label.v, k->metric));
        if (k->unit[u].good && k->unit[u].row.has_efficiency)
            fprintf(t, ": here the EER is %s",
                    shown(gets, Q_EER, k->unit[u].row.efficiency.EER_A, k->metric));
        fputc('.', t);
        paragraph_print(&text, out, "", 3);
    }
}

/* What goes beyond its data at each unit's own speed. */
static void print_notes(FILE *out, const comparison *k)
{
    for (int u = MATCHED; u < k->n; u++) {
        const char first[] = {compare_letter(u), ':', ' ', '\0'};
        if (u != MATCHED && !k->unit[u].good) continue;
        notes_print(out, u == MATCHED ? k->matched.at.point.notes : k->unit[u].row.at.point.notes,
                    first, k->metric);
    }
}

static void print_legend(FILE *out, const comparison *k)
{
    const ct_case *c = k->j->c;
    title_print(out, k->j);
    fputs(", with:\n", out);
    for (int u = MATCHED; u < k->n; u++) {
        const char first[] = {' ', ' ', compare_letter(u), ' ', ' ', '\0'};
        paragraph_wrap(out, compare_name(k, u), first, 5);
    }
    tuned_print(out, &c->tuning);
    ways_print_short(out, c, &k->j->ways, k->metric);
    fputc('\n', out);
}

void compare_text_print(FILE *out, const comparison *k)
{
    for (int u = 0; u < k->n; u++)
        verdict_print(out, &k->unit[u].verdict, k->n > 1 ? compare_letter(u) : 0);
    print_legend(out, k);
    print_table(out, k);
    fputc('\n', out);
    print_failures(out, k);
    print_outlooks(out, k);
    print_notes(out, k);
    print_findings(out, k);
    print_same_air(out, k);
    print_low_stage(out, k);
    print_season(out, k);
    print_labels(out, k);
    fputs("\nRefrigerant and line-voltage work is for licensed people. Local codes and the\n"
          "manufacturers' instructions come before these numbers.\n",
          out);
}
