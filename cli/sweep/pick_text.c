#include "sweep/pick_text.h"

#include <math.h>
#include <string.h>

#include "base/paragraph.h"
#include "show/against_words.h"
#include "show/limit_words.h"
#include "show/tap_words.h"

void pick_text_speed(FILE *out, const sweep_result *r, const ct_point *p)
{
    char air[SHOWN_SIZE], per_ton[SHOWN_SIZE];
    tap_say(out, &r->view.job->unit->blower, p->tap);
    if (p->m_da > 0)
        fprintf(out, "%s (%s)", shown(air, Q_AIRFLOW, p->V, r->metric),
                shown(per_ton, Q_AIRFLOW_PER_TON, p->V_std_per_ton, r->metric));
    else
        fputs("no airflow", out);
}

/* Which air the load is judged in, and what the humidity entered would give. */
static void say_air(FILE *out, const sweep_result *r, const ct_point *p)
{
    const ct_house *h = &r->view.job->c->house;
    char other[SHOWN_SIZE], latent[SHOWN_SIZE];
    const double entered = 100 * ct_air_rh(&r->view.job->indoor);
    shown(latent, Q_HEAT, p->balance.Q_lat, r->metric);
    if (!p->has_design || h->judge_load_at == CT_LOAD_ENTERED) {
        fprintf(out, ", in air of %.0f%% RH as entered, and takes out %s of latent heat.", entered,
                latent);
        return;
    }
    fprintf(out,
            ", in the air the house settles at that day, %.0f%% RH. In air of %.0f%% RH, as "
            "entered, it gives "
            "%s sensible and %s latent.",
            100 * p->design.room.rh, entered, shown(other, Q_HEAT, p->Q_house, r->metric), latent);
}

static void say_gives(FILE *out, const sweep_result *r, const ct_point *p)
{
    const ct_house *h = &r->view.job->c->house;
    char carried[SHOWN_SIZE], load[SHOWN_SIZE], margin[SHOWN_SIZE];
    fprintf(out, ". It gives %s of sensible heat where the load is %s",
            shown(carried, Q_HEAT, p->limit[CT_LIMIT_SENSIBLE].value, r->metric),
            shown(load, Q_HEAT, h->Q_sensible, r->metric));
    if (h->margin > 0)
        fprintf(out, " and %s margin", shown(margin, Q_FRACTION, h->margin, r->metric));
    say_air(out, r, p);
}

/* Where the humidity of the case will go: it is not a setting, only a reading. */
static void say_house(FILE *out, const sweep_result *r, const ct_point *p)
{
    if (p->has_design)
        fprintf(out,
                "The house: %.0f%% RH is entered; on the design day it settles at %.0f%%, "
                "the system running %.0f%% of the time",
                100 * ct_air_rh(&r->view.job->indoor), 100 * p->design.room.rh,
                100 * p->design.room.run);
    if (p->has_design && r->view.job->has_low)
        fprintf(out, ", on the high stage %.0f%%", 100 * p->design.room.high);
    if (p->has_design && p->has_band)
        fprintf(out, "; at 80, 60 and 40%% of the sensible load at about %.0f, %.0f and %.0f%%",
                100 * p->rh_band[2], 100 * p->rh_band[1], 100 * p->rh_band[0]);
    if (p->has_design) fputs(".", out);
}

/* Frost, beside the line the trade knows. */
static void say_frost(FILE *out, const sweep_result *r, const ct_point *p)
{
    char mild[SHOWN_SIZE], Te[SHOWN_SIZE], T[SHOWN_SIZE], line[SHOWN_SIZE];
    if (!p->has_mild) return;
    fprintf(out,
            " With %s outdoors it draws down to %s saturated suction, the coldest surface %s; "
            "the trade's line is %s saturated suction.",
            shown(mild, Q_TEMPERATURE, r->view.job->c->limits.T_mild, r->metric),
            shown(Te, Q_TEMPERATURE, p->Te_mild, r->metric),
            shown(T, Q_TEMPERATURE, p->T_surface_mild, r->metric),
            shown(line, Q_TEMPERATURE, CT_FROST_LINE, r->metric));
}

static void say_ducts(FILE *out, const sweep_result *r, const ct_point *p)
{
    if (!r->view.job->has_outside) return;
    fprintf(out, " Ducts outside the cooled space bring %.0f%% of the sensible capacity home.",
            100 * p->ducts.sensible_regained);
}

static void say_lower(FILE *out, const sweep_result *r)
{
    const ct_pick *k = r->view.pick;
    const ct_sweep *s = r->view.sweep;
    if (!k->has_lower) {
        fputs(k->from_taps ? "There is no slower speed."
                           : "It is the lowest airflow of the sweep; a wider sweep may find a "
                             "lower one.",
              out);
        return;
    }
    const ct_point *below = k->from_taps ? &s->tap[k->lower] : &s->point[k->lower];
    fputs("The next slower, ", out);
    pick_text_speed(out, r, below);
    fputs(", fails: ", out);
    limit_explain(out, k->binding, &k->binding_at, below, r->metric);
    fputc('.', out);
}

static void say_difference(FILE *out, const char *what, quantity q, double now, double then,
                           bool metric)
{
    char text[SHOWN_SIZE];
    fprintf(out, " %s %s %s", shown(text, q, fabs(now - then), metric),
            now < then ? "less" : "more", what);
}

static void say_eer(FILE *out, double now, double then, bool metric)
{
    const quantity_form *eer = quantity_for_people(Q_EER, metric);
    char a[SHOWN_SIZE], b[SHOWN_SIZE];
    snprintf(a, sizeof a, "%.*f", eer->decimals, quantity_show(eer, now));
    snprintf(b, sizeof b, "%.*f", eer->decimals, quantity_show(eer, then));
    if (strcmp(a, b) == 0)
        fprintf(out, " EER %s at both", a);
    else
        fprintf(out, " EER %s instead of %s", a, b);
}

static void say_price(FILE *out, const sweep_result *r, const ct_point *p, const ct_point *ref)
{
    const bool m = r->metric;
    fputs("Against ", out);
    pick_text_speed(out, r, ref);
    fputs(":", out);
    say_difference(out, "total,", Q_HEAT, p->balance.Q_net, ref->balance.Q_net, m);
    say_difference(out, "sensible and", Q_HEAT, p->balance.Q_sens_net, ref->balance.Q_sens_net, m);
    say_difference(out, "latent capacity;", Q_HEAT, p->balance.Q_lat, ref->balance.Q_lat, m);
    say_eer(out, p->balance.EER, ref->balance.EER, m);
    if (p->has_room && ref->has_room) {
        fputs("; the house settles at ", out);
        against_words(out, p->room.rh, ref->room.rh);
    }
    fputc('.', out);
}

void pick_text_pick(FILE *out, const sweep_result *r, const ct_point *p)
{
    paragraph text;
    FILE *t = paragraph_open(&text);
    if (!t) return;
    pick_text_speed(t, r, p);
    say_gives(t, r, p);
    fputc(' ', t);
    say_lower(t, r);
    paragraph_print(&text, out, "Pick: ", 2);
    const ct_point *ref = r->full && !r->quiet ? sweep_reference(r) : NULL;
    if (ref && (t = paragraph_open(&text))) {
        say_price(t, r, p, ref);
        paragraph_print(&text, out, "", 2);
    }
    if (r->full && !r->quiet && (t = paragraph_open(&text))) {
        say_house(t, r, p);
        say_frost(t, r, p);
        say_ducts(t, r, p);
        paragraph_print(&text, out, "", 2);
    }
}

/* ---- None passes ----------------------------------------------------------------- */

/* The point that comes nearest to holding a limit, whatever else it fails. */
static const ct_point *nearest_to(const sweep_result *r, ct_limit limit)
{
    const ct_pick *k = r->view.pick;
    const ct_point *points = k->from_taps ? r->view.sweep->tap : r->view.sweep->point;
    const ct_point *best = NULL;
    for (int i = 0; i < k->n_points; i++) {
        const ct_judgment *j = &points[i].limit[limit];
        if (j->verdict == CT_FAILS && (!best || j->slack > best->limit[limit].slack))
            best = &points[i];
    }
    return best;
}

/* `nearest`: the speed that comes nearest to passing; NULL: another limit, where it fails least. */
static void print_failure(FILE *out, const sweep_result *r, ct_limit limit, const ct_point *nearest)
{
    const ct_pick *k = r->view.pick;
    const ct_point *best = nearest ? nearest : nearest_to(r, limit);
    paragraph text;
    FILE *t = paragraph_open(&text);
    if (!t) return;
    fprintf(t, "%d of %d %s fail on %s", k->failing[limit], k->n_points,
            k->from_taps ? "speeds" : "airflows", ct_limit_of(limit)->name);
    if (best) {
        fputs(limit == CT_LIMIT_BALANCE ? "; " : nearest ? "; the nearest is " : "; least at ", t);
        pick_text_speed(t, r, best);
        fputs(": ", t);
        limit_explain(t, limit, &best->limit[limit], best, r->metric);
    }
    paragraph_print(&text, out, "  ", 4);
}

/* The other limits that fail, counted. */
static void print_others(FILE *out, const ct_pick *k, ct_limit most)
{
    const char *const begin = "also fails: ", *between = begin;
    paragraph text;
    FILE *t = paragraph_open(&text);
    if (!t) return;
    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++) {
        if (!k->failing[i] || i == (int)most) continue;
        fprintf(t, "%s%s at %d", between, ct_limit_of((ct_limit)i)->name, k->failing[i]);
        between = ", ";
    }
    if (between == begin)
        fclose(t);
    else
        paragraph_print(&text, out, "  ", 4);
}

void pick_text_none(FILE *out, const sweep_result *r)
{
    const ct_pick *k = r->view.pick;
    const ct_point *nearest = ct_sweep_nearest(r->view.sweep);
    const ct_limit most = nearest ? ct_limit_worst(nearest->limit) : CT_LIMIT_BALANCE;
    fprintf(out, "No %s passes.\n", k->from_taps ? "blower speed" : "airflow of the sweep");
    print_failure(out, r, most, nearest);
    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE && r->full; i++)
        if (k->failing[i] && i != (int)most) print_failure(out, r, (ct_limit)i, NULL);
    if (!r->full) print_others(out, k, most);
    if (r->full)
        outlook_print_fixes(out, &r->outlook, 0, r->metric);
    else
        outlook_print_best_fixes(out, &r->outlook, r->metric);
}

/* Why each tap that fails does so; for airflows of a sweep the table's last column has to do. */
void pick_text_failures(FILE *out, const sweep_result *r)
{
    const ct_sweep *s = r->view.sweep;
    bool any = false;
    for (int i = 0; i < s->n_taps; i++)
        for (int k = 0; k < CT_LIMIT_FIRST_ADVICE; k++) {
            const ct_point *p = &s->tap[i];
            paragraph text;
            FILE *t;
            if (p->limit[k].verdict != CT_FAILS || !(t = paragraph_open(&text))) continue;
            if (!any) fputs("\nWhat fails:\n", out);
            any = true;
            const char *name = r->view.job->unit->blower.tap[p->tap].name;
            fprintf(t, "%s%s: ", tap_prefix(name), name);
            limit_explain(t, (ct_limit)k, &p->limit[k], p, r->metric);
            paragraph_print(&text, out, "  ", 4);
        }
}

/* ---- Advice, load, assumptions --------------------------------------------------- */

void pick_text_advice(FILE *out, const sweep_result *r, const ct_point *p)
{
    for (int i = CT_LIMIT_FIRST_ADVICE; i < CT_LIMIT_COUNT; i++) {
        paragraph text;
        FILE *t;
        if (!(r->view.pick->advice & 1u << i) || !(t = paragraph_open(&text))) continue;
        limit_explain(t, (ct_limit)i, &p->limit[i], p, r->metric);
        fputs(i == CT_LIMIT_LATENT ? ". On the design day the house gets damper until as much "
                                     "moisture leaves as comes in."
                                   : ".",
              t);
        paragraph_print(&text, out, "Advice: ", 2);
    }
}

void pick_text_hottest(FILE *out, const sweep_result *r)
{
    char text[SHOWN_SIZE];
    if (r->has_hottest)
        fprintf(out, "Hottest day: this speed carries the load up to %s outdoors.\n",
                shown(text, Q_TEMPERATURE, r->T_hottest, r->metric));
    else if (r->why_no_hottest[0])
        fprintf(out, "Hottest day: %s.\n", r->why_no_hottest);
}

void pick_text_loads(FILE *out, const sweep_result *r)
{
    const ct_sweep *s = r->view.sweep;
    paragraph text;
    FILE *t;
    if (s->n_taps == 0 || !(t = paragraph_open(&text))) return;
    fputs("Largest sensible load each speed carries", t);
    if (r->view.job->c->house.margin > 0) fputs(", with its margin", t);
    for (int i = 0; i < s->n_taps; i++) {
        char load[SHOWN_SIZE];
        const char *name = r->view.job->unit->blower.tap[s->tap[i].tap].name;
        fprintf(t, "%s %s%s %s", i ? ";" : ":", tap_prefix(name), name,
                s->tap[i].status == CT_OK ? shown(load, Q_HEAT, s->tap[i].Q_load_max, r->metric)
                                          : "none");
    }
    fprintf(t, ". %s", limit_largest_load_words(&r->view.job->c->house));
    paragraph_print(&text, out, "", 2);
}
