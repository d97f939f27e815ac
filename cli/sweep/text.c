#include "sweep/text.h"

#include <math.h>
#include <string.h>

#include "base/paragraph.h"
#include "base/units.h"
#include "show/limit_words.h"

enum { ROWS_WITHOUT_TAPS = 8, TAP_WIDTH = 14 };

/* The customary rating airflow; common practice, no source. */
#define CUSTOMARY_PER_TON (400.0 * CT_M3S_PER_CFM)

/* Isentropic work over electrical input of a sound hermetic compressor at the rating point; common
 * practice, no source. */
#define ETA_LOW 0.45
#define ETA_HIGH 0.75
#define MAP_APART 0.10

/* ---- Table ----------------------------------------------------------------------- */

static void put_name(FILE *out, const char *name)
{
    int width = 0;
    for (const char *c = name; *c && width < TAP_WIDTH; width++) {
        do
            fputc(*c++, out);
        while (((unsigned char)*c & 0xc0) == 0x80);
    }
    fprintf(out, "%*s", TAP_WIDTH - width, "");
}

static void put_cell(FILE *out, int width, int decimals, quantity q, double v, double divide,
                     bool metric)
{
    if (isfinite(v))
        fprintf(out, "%*.*f", width, decimals,
                quantity_show(quantity_for_people(q, metric), v) / divide);
    else
        fprintf(out, "%*s", width, "-");
}

/* The first deciding limit that fails, and a plus when there are more. */
static void put_verdict(FILE *out, const ct_point *p, bool pick)
{
    int failing = 0, first = 0;
    for (int i = CT_LIMIT_FIRST_ADVICE - 1; i >= 0; i--)
        if (p->limit[i].verdict == CT_FAILS) {
            failing++;
            first = i;
        }
    if (failing == 0)
        fputs(pick ? "  PICK" : "  passes", out);
    else
        fprintf(out, "  %s%s", limit_words_of((ct_limit)first, p)->brief, failing > 1 ? "+" : "");
}

static double when(bool there, double v)
{
    return there ? v : (double)NAN;
}

static void put_point(FILE *out, const sweep_result *r, const ct_point *p)
{
    const bool m = r->metric, has = p->status == CT_OK, air = p->m_da > 0;
    const bool pick = p == ct_pick_point(r->view.pick, r->view.sweep);
    const double thousand = m ? 1 : 1000;
    const ct_balance *b = &p->balance;
    fputc(pick ? '>' : ' ', out);
    if (r->view.sweep->n_taps > 0) {
        put_name(out, p->tap < 0 ? "" : r->view.job->unit->blower.tap[p->tap].name);
    }
    put_cell(out, 6, 0, Q_AIRFLOW, when(air, p->V), 1, m);
    put_cell(out, 5, 0, Q_AIRFLOW_PER_TON, when(air, p->V_std_per_ton), 1, m);
    if (r->view.sweep->n_taps > 0)
        put_cell(out, 6, m ? 0 : 2, Q_STATIC, when(p->has_dp, p->dp), 1, m);
    put_cell(out, 6, 1, Q_HEAT, when(has, b->Q_net), thousand, m);
    put_cell(out, 6, 1, Q_HEAT, when(has, b->Q_sens_net), thousand, m);
    put_cell(out, 5, 1, Q_HEAT, when(has, b->Q_lat), thousand, m);
    put_cell(out, 5, 1, Q_TEMPERATURE, when(has, b->Te), 1, m);
    put_cell(out, 5, 1, Q_TEMPERATURE, when(has, b->T_surface), 1, m);
    put_cell(out, 5, m ? 2 : 1, Q_EER, when(has, b->EER), 1, m);
    put_cell(out, 4, 0, Q_FRACTION, when(p->has_room, p->room.rh), 1, m);
    put_verdict(out, p, pick);
    fputc('\n', out);
}

static void put_heading(FILE *out, const sweep_result *r)
{
    const bool taps = r->view.sweep->n_taps > 0, m = r->metric;
    fprintf(out, " %-*s%6s%5s%s%6s%6s%5s%5s%5s%5s%4s\n", taps ? TAP_WIDTH : 0,
            taps ? "blower tap" : "", "air", "per", taps ? "  duct" : "", "net", "sens-", "lat-",
            "suct", "coil", "EER", "RH");
    fprintf(out, " %-*s%6s%5s%s%6s%6s%5s%5s%5s%5s%4s\n", taps ? TAP_WIDTH : 0, "",
            m ? "L/s" : "cfm", "ton", taps ? m ? "    Pa" : "  inwc" : "", "total", "ible", "ent",
            m ? "C" : "F", m ? "C" : "F", "", "%");
}

static void print_table(FILE *out, const sweep_result *r)
{
    const ct_sweep *s = r->view.sweep;
    put_heading(out, r);
    for (int i = 0; i < s->n_taps; i++)
        put_point(out, r, &s->tap[i]);
    const int rows = s->n < ROWS_WITHOUT_TAPS ? s->n : ROWS_WITHOUT_TAPS;
    const int pick = r->view.pick->found && !r->view.pick->from_taps ? r->view.pick->index : -1;
    int shown_to = -1;
    for (int k = 0; s->n_taps == 0 && k < rows; k++) {
        const int i = k * (s->n - 1) / (rows - 1);
        if (pick > shown_to && pick < i) put_point(out, r, &s->point[pick]);
        put_point(out, r, &s->point[i]);
        shown_to = i;
    }
    fprintf(out,
            " Capacities in %s, blower heat taken off. air: actual at the blower; per\n"
            " ton: standard air per nominal ton; suct: saturated suction; coil: coldest\n"
            " surface; RH: humidity the house settles at.\n",
            r->metric ? "kW" : "1000 Btu/h");
}

/* ---- The pick -------------------------------------------------------------------- */

/* Boards number their taps: "5, 1,490 cfm" would not be read as a name. */
static const char *tap_or_nothing(const char *name)
{
    return name[strspn(name, "0123456789")] == '\0' ? "tap " : "";
}

static void name_speed(FILE *out, const sweep_result *r, const ct_point *p)
{
    char air[SHOWN_SIZE], per_ton[SHOWN_SIZE];
    if (p->tap >= 0) {
        const char *name = r->view.job->unit->blower.tap[p->tap].name;
        fprintf(out, "%s%s, ", tap_or_nothing(name), name);
    }
    if (p->m_da > 0)
        fprintf(out, "%s (%s)", shown(air, Q_AIRFLOW, p->V, r->metric),
                shown(per_ton, Q_AIRFLOW_PER_TON, p->V_std_per_ton, r->metric));
    else
        fputs("no airflow", out);
}

static void say_carries(FILE *out, const sweep_result *r, const ct_point *p)
{
    const ct_house *h = &r->view.job->c->house;
    char carried[SHOWN_SIZE], load[SHOWN_SIZE], margin[SHOWN_SIZE], latent[SHOWN_SIZE];
    fprintf(out, ". It carries %s of sensible heat where the load is %s",
            shown(carried, Q_HEAT, p->balance.Q_sens_net, r->metric),
            shown(load, Q_HEAT, h->Q_sensible, r->metric));
    if (h->margin > 0)
        fprintf(out, " and %s margin", shown(margin, Q_FRACTION, h->margin, r->metric));
    fprintf(out, ", and takes out %s of latent heat.",
            shown(latent, Q_HEAT, p->balance.Q_lat, r->metric));
}

static void say_lower(FILE *out, const sweep_result *r)
{
    const ct_pick *k = r->view.pick;
    const ct_sweep *s = r->view.sweep;
    if (!k->has_lower) {
        fputs(k->from_taps ? "There is no slower tap."
                           : "It is the lowest airflow of the sweep; a wider sweep may find a "
                             "lower one.",
              out);
        return;
    }
    const ct_point *below = k->from_taps ? &s->tap[k->lower] : &s->point[k->lower];
    fputs("The next slower, ", out);
    name_speed(out, r, below);
    fputs(", is refused: ", out);
    limit_explain(out, k->binding, &k->binding_at, below, r->metric);
    fputc('.', out);
}

const ct_point *sweep_reference(const sweep_result *r)
{
    const ct_sweep *s = r->view.sweep;
    const ct_point *best = NULL, *pick = ct_pick_point(r->view.pick, s);
    for (int i = 0; i < s->n_taps; i++)
        if (s->tap[i].status == CT_OK) best = &s->tap[i];
    for (int i = 0; s->n_taps == 0 && i < s->n; i++) {
        const ct_point *p = &s->point[i];
        if (p->status == CT_OK && (!best || fabs(p->V_std_per_ton - CUSTOMARY_PER_TON) <
                                                fabs(best->V_std_per_ton - CUSTOMARY_PER_TON)))
            best = p;
    }
    return best == pick ? NULL : best;
}

static void say_difference(FILE *out, const char *what, quantity q, double now, double then,
                           bool metric)
{
    char text[SHOWN_SIZE];
    fprintf(out, " %s %s %s", shown(text, q, fabs(now - then), metric),
            now < then ? "less" : "more", what);
}

static void say_price(FILE *out, const sweep_result *r, const ct_point *p, const ct_point *ref)
{
    const bool m = r->metric;
    fputs("Against ", out);
    name_speed(out, r, ref);
    fputs(":", out);
    say_difference(out, "total,", Q_HEAT, p->balance.Q_net, ref->balance.Q_net, m);
    say_difference(out, "sensible and", Q_HEAT, p->balance.Q_sens_net, ref->balance.Q_sens_net, m);
    say_difference(out, "latent capacity;", Q_HEAT, p->balance.Q_lat, ref->balance.Q_lat, m);
    const quantity_form *eer = quantity_for_people(Q_EER, m);
    fprintf(out, " EER %.*f instead of %.*f", m ? 2 : 1, quantity_show(eer, p->balance.EER),
            m ? 2 : 1, quantity_show(eer, ref->balance.EER));
    if (p->has_room && ref->has_room)
        fprintf(out, "; the house settles at %.0f%% instead of %.0f%%", 100 * p->room.rh,
                100 * ref->room.rh);
    fputc('.', out);
}

static void print_pick(FILE *out, const sweep_result *r, const ct_point *p)
{
    paragraph text;
    FILE *t = paragraph_open(&text);
    if (!t) return;
    name_speed(t, r, p);
    say_carries(t, r, p);
    fputc(' ', t);
    say_lower(t, r);
    paragraph_print(&text, out, "\nPick: ", 6);
    const ct_point *ref = r->quiet ? NULL : sweep_reference(r);
    if (ref && (t = paragraph_open(&text))) {
        say_price(t, r, p, ref);
        paragraph_print(&text, out, "      ", 6);
    }
}

/* ---- None passes ----------------------------------------------------------------- */

/* The point that comes nearest to holding a limit. */
static const ct_point *nearest_to(const sweep_result *r, ct_limit limit)
{
    const ct_pick *k = r->view.pick;
    const ct_point *points = k->from_taps ? r->view.sweep->tap : r->view.sweep->point;
    const ct_point *best = NULL;
    for (int i = 0; i < k->n_points; i++) {
        const ct_judgement *j = &points[i].limit[limit];
        if (j->verdict == CT_FAILS && (!best || j->slack > best->limit[limit].slack))
            best = &points[i];
    }
    return best;
}

static void print_refusal(FILE *out, const sweep_result *r, ct_limit limit)
{
    const ct_pick *k = r->view.pick;
    const ct_point *best = nearest_to(r, limit);
    paragraph text;
    FILE *t = paragraph_open(&text);
    if (!t) return;
    fprintf(t, "%s refuses %d of %d", ct_limit_name(limit), k->killed[limit], k->n_points);
    if (best) {
        fputs(limit == CT_LIMIT_BALANCE ? "; " : "; nearest is ", t);
        name_speed(t, r, best);
        fputs(": ", t);
        limit_explain(t, limit, &best->limit[limit], best, r->metric);
    }
    paragraph_print(&text, out, "  ", 4);
}

static void print_none(FILE *out, const sweep_result *r)
{
    const ct_pick *k = r->view.pick;
    fprintf(out, "\nNo %s passes.\n", k->from_taps ? "blower tap" : "airflow of the sweep");
    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++)
        if (k->killed[i]) print_refusal(out, r, (ct_limit)i);
    if (k->mends) fputs("What would mend it:\n", out);
    for (int bit = 0; bit < MENDS; bit++)
        if (k->mends & 1u << bit) wrap(out, mend_words(bit), "  - ", 4);
}

/* Why each refused tap is refused; for airflows of a sweep the table's last column has to do. */
static void print_refusals(FILE *out, const sweep_result *r)
{
    const ct_sweep *s = r->view.sweep;
    bool any = false;
    for (int i = 0; i < s->n_taps; i++)
        for (int k = 0; k < CT_LIMIT_FIRST_ADVICE; k++) {
            const ct_point *p = &s->tap[i];
            paragraph text;
            FILE *t;
            if (p->limit[k].verdict != CT_FAILS || !(t = paragraph_open(&text))) continue;
            if (!any) fputs("\nRefused:\n", out);
            any = true;
            fprintf(t, "%s: ", r->view.job->unit->blower.tap[p->tap].name);
            limit_explain(t, (ct_limit)k, &p->limit[k], p, r->metric);
            paragraph_print(&text, out, "  ", 4);
        }
}

/* ---- Advice, load, assumptions --------------------------------------------------- */

static void print_advice(FILE *out, const sweep_result *r, const ct_point *p)
{
    for (int i = CT_LIMIT_FIRST_ADVICE; i < CT_LIMIT_COUNT; i++) {
        paragraph text;
        FILE *t;
        if (!(r->view.pick->advice & 1u << i) || !(t = paragraph_open(&text))) continue;
        limit_explain(t, (ct_limit)i, &p->limit[i], p, r->metric);
        fputs(i == CT_LIMIT_LATENT ? ". On the design day the house drifts damper until moisture "
                                     "in and out meet."
                                   : ".",
              t);
        paragraph_print(&text, out, "Advice: ", 8);
    }
}

static void print_hottest(FILE *out, const sweep_result *r)
{
    char text[SHOWN_SIZE];
    if (r->has_hottest)
        fprintf(out, "Hottest day: this speed carries the load up to %s outdoors.\n",
                shown(text, Q_TEMPERATURE, r->T_hottest, r->metric));
    else if (r->why_no_hottest[0])
        fprintf(out, "Hottest day: %s.\n", r->why_no_hottest);
}

static void print_loads(FILE *out, const sweep_result *r)
{
    const ct_sweep *s = r->view.sweep;
    paragraph text;
    FILE *t;
    if (s->n_taps == 0 || !(t = paragraph_open(&text))) return;
    fputs("Largest sensible load carried", t);
    if (r->view.job->c->house.margin > 0) fputs(", its margin kept", t);
    for (int i = 0; i < s->n_taps; i++) {
        char load[SHOWN_SIZE];
        const char *name = r->view.job->unit->blower.tap[s->tap[i].tap].name;
        fprintf(t, "%s %s%s %s", i ? ";" : ":", tap_or_nothing(name), name,
                s->tap[i].status == CT_OK ? shown(load, Q_HEAT, s->tap[i].Q_load_max, r->metric)
                                          : "none");
    }
    fputc('.', t);
    paragraph_print(&text, out, "", 2);
}

int calibration_doubts(const job *j, char line[PLAUSIBILITY_LINES][PLAUSIBILITY_SIZE])
{
    const ct_calibration *k = &j->calibration;
    const struct {
        const char *what;
        double v;
    } maps[] = {{"mass flow", k->map_flow}, {"power", k->map_power}};
    int n = 0;
    if (k->eta_rated < ETA_LOW || k->eta_rated > ETA_HIGH)
        snprintf(line[n++], PLAUSIBILITY_SIZE,
                 "the nameplate implies a compressor efficiency of %.0f %% (usual: %.0f to %.0f "
                 "%%): check rated capacity, EER and saturated temperatures",
                 100 * k->eta_rated, 100 * ETA_LOW, 100 * ETA_HIGH);
    for (size_t i = 0; i < sizeof maps / sizeof maps[0]; i++)
        if (isfinite(maps[i].v) && fabs(maps[i].v - 1) > MAP_APART)
            snprintf(line[n++], PLAUSIBILITY_SIZE,
                     "the compressor map's %s had to be multiplied by %.2f to meet the nameplate: "
                     "is it this compressor's map?",
                     maps[i].what, maps[i].v);
    return n;
}

static void print_doubts(FILE *out, const sweep_result *r)
{
    char line[PLAUSIBILITY_LINES][PLAUSIBILITY_SIZE];
    const int n = calibration_doubts(r->j, line);
    if (n == 0)
        fprintf(out, "Calibrated to the nameplate: compressor efficiency %.0f %%, as usual.\n",
                100 * r->j->calibration.eta_rated);
    for (int i = 0; i < n; i++)
        wrap(out, line[i], "Doubt: ", 7);
}

static int n_assumed(const ct_case_report *report)
{
    return report->n_assumed < CT_MAX_ASSUMED ? report->n_assumed : CT_MAX_ASSUMED;
}

static void print_reasons(FILE *out, const ct_case_report *report)
{
    for (int i = 0; i < n_assumed(report); i++) {
        const ct_assumed *a = &report->assumed[i];
        wrap_text(out, "assumed: ", 11, "%s = %s%s%s", a->key, a->text, a->why[0] ? "; " : "",
                  a->why);
    }
}

/* Keys and values in one paragraph, none broken over two lines, so that the list does not push the
 * pick off a small screen; a line each with its reason when asked for. */
static void print_assumed(FILE *out, const sweep_result *r)
{
    const ct_case_report *report = r->j->report;
    char
        text[CT_MAX_ASSUMED * (sizeof report->assumed[0].key + sizeof report->assumed[0].text + 8)];
    size_t used = 0;
    if (n_assumed(report) == 0) return;
    fputs("\n", out);
    if (r->reasons) {
        print_reasons(out, report);
        return;
    }
    for (int i = 0; i < n_assumed(report); i++) {
        const ct_assumed *a = &report->assumed[i];
        const size_t begun = used;
        used += (size_t)sprintf(text + used, "%s%s = %s", i ? "; " : "", a->key, a->text);
        for (size_t k = begun + (i ? 2 : 0); k < used; k++)
            if (text[k] == ' ') text[k] = TIED;
    }
    wrap_text(out, "assumed: ", 9, "%s", text);
    fputs("(--reasons tells where these come from)\n", out);
}

static void print_cautions(FILE *out, const sweep_result *r)
{
    const bool heat_known =
        r->view.job->c->limits.V_heat_min.has || r->view.job->c->limits.Q_furnace.has;
    fputs("\nCautions: refrigerant and line-voltage work is for licensed people, after the\n"
          "local code and the makers' instructions, which go before these numbers.\n",
          out);
    if (!heat_known)
        fputs("No electric heat or furnace is given: their minimum airflow was not checked.\n",
              out);
    if (strcmp(ct_refrigerant_safety(r->j->refrigerant), "A1") != 0)
        fprintf(out, "%s is flammable (%s): no ignition source, tools made for it.\n",
                ct_refrigerant_name(r->j->refrigerant), ct_refrigerant_safety(r->j->refrigerant));
}

static void print_title(FILE *out, const sweep_result *r)
{
    const ct_case *c = r->view.job->c;
    char tons[16], T[SHOWN_SIZE], in[SHOWN_SIZE];
    snprintf(tons, sizeof tons, "%.3g", c->outdoor.tons);
    if (c->job.title[0]) wrap(out, c->job.title, "", 2);
    fprintf(out, "%s, %s ton outdoor unit; indoor: %s\n", ct_refrigerant_name(r->j->refrigerant),
            tons, r->view.job->unit->name);
    fprintf(out, "Outdoors %s; return air %s, %.0f%% RH\n\n",
            shown(T, Q_TEMPERATURE, r->view.job->T_out, r->metric),
            shown(in, Q_TEMPERATURE, r->view.job->indoor.T, r->metric),
            100 * ct_air_rh(&r->view.job->indoor));
}

void sweep_text_print(FILE *out, const sweep_result *r)
{
    const ct_point *pick = ct_pick_point(r->view.pick, r->view.sweep);
    if (!r->quiet) {
        print_title(out, r);
        print_table(out, r);
    }
    if (pick)
        print_pick(out, r, pick);
    else
        print_none(out, r);
    if (pick) print_advice(out, r, pick);
    if (r->uncertain) uncertain_print(out, r->uncertain, pick, r->quiet, r->metric);
    if (r->quiet) return;
    if (pick) print_hottest(out, r);
    print_refusals(out, r);
    print_loads(out, r);
    print_doubts(out, r);
    print_assumed(out, r);
    print_cautions(out, r);
}
