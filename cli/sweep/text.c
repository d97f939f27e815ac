#include "sweep/text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/paragraph.h"
#include "judge/notes.h"
#include "show/cells.h"
#include "show/charge_words.h"
#include "show/heat_pump_words.h"
#include "show/heating_words.h"
#include "show/limit_words.h"
#include "show/low_stage_words.h"
#include "show/noted_speeds.h"
#include "show/switch_words.h"
#include "show/title.h"
#include "show/tuned_words.h"
#include "show/ways_words.h"
#include "sweep/beside_text.h"
#include "sweep/pick_text.h"

enum { ROWS_WITHOUT_TAPS = 8, ROWS_WITHOUT_PICK = 4, TAP_WIDTH = 12 };

#define MORE_FAIL " +: fails more than the limit named.\n"

/* ---- Table ----------------------------------------------------------------------- */

/* What the signs in the last column are for. */
typedef struct {
    bool more;      /* a row fails more than the limit it names */
    unsigned notes; /* of the rows */
} marks;

/* The first deciding limit that fails, and a plus when there are more: then true. */
static bool put_verdict(FILE *out, const ct_point *p, bool pick)
{
    int failing = 0, first = 0;
    for (int i = CT_LIMIT_FIRST_ADVICE - 1; i >= 0; i--)
        if (p->limit[i].verdict == CT_FAILS) {
            failing++;
            first = i;
        }
    if (failing == 0)
        fprintf(out, "  %s", pick ? "PICK" : "passes");
    else
        fprintf(out, "  %s%s", limit_words_of((ct_limit)first, p).brief, failing > 1 ? "+" : "");
    fputs(note_mark(p->notes), out);
    return failing > 1;
}

/* T_return: K, of the air the split counts from. */
static void put_balance(FILE *out, const ct_balance *b, bool has, double T_return, bool m)
{
    const double thousand = m ? 1 : 1000;
    cell_number(out, 6, 1, cell_value(Q_HEAT, has, b->Q_net, m) / thousand);
    cell_number(out, 5, 1, cell_value(Q_HEAT, has, b->Q_sens_net, m) / thousand);
    cell_number(out, 5, 1, cell_value(Q_HEAT, has, b->Q_lat, m) / thousand);
    cell_number(out, 5, 1, cell_value(Q_TEMPERATURE, has, b->Te, m));
    cell_number(out, 5, 1, cell_value(Q_TEMPERATURE, has, b->supply.T, m));
    cell_number(out, 5, 1, cell_value(Q_DELTA_T, has, T_return - b->supply.T, m));
    cell_number(out, 5, quantity_for_people(Q_EER, m)->decimals, cell_value(Q_EER, has, b->EER, m));
}

/* On a terminal, unless NO_COLOR is set to anything (no-color.org). */
static bool colors(FILE *out)
{
    const char *no = getenv("NO_COLOR");
    return !(no && no[0]) && isatty(fileno(out));
}

static void put_point(FILE *out, const sweep_result *r, const ct_point *p, marks *of)
{
    const bool m = r->metric, air = p->m_da > 0, taps = r->view.sweep->n_taps > 0;
    const bool pick = p == ct_pick_point(r->view.pick, r->view.sweep);
    const bool bold = pick && colors(out);
    if (bold) fputs("\033[1m", out);
    fputc(pick ? '>' : ' ', out);
    if (taps)
        cell_left(out, TAP_WIDTH, p->tap < 0 ? "" : r->view.job->unit->blower.tap[p->tap].name);
    cell_number(out, 5, 0, cell_value(Q_AIRFLOW, air, p->V, m));
    cell_number(out, 5, 0, cell_value(Q_AIRFLOW_PER_TON, air, p->V_std_per_ton, m));
    if (taps) cell_number(out, 5, m ? 0 : 2, cell_value(Q_STATIC, p->has_dp, p->dp, m));
    put_balance(out, &p->balance, p->status == CT_OK, r->view.job->indoor.T, m);
    cell_number(out, 4, 0, cell_value(Q_FRACTION, p->has_room, p->room.rh, m));
    of->more |= put_verdict(out, p, pick);
    of->notes |= p->notes;
    fputs(bold ? "\033[0m\n" : "\n", out);
}

static void put_heading(FILE *out, const sweep_result *r)
{
    const bool taps = r->view.sweep->n_taps > 0, m = r->metric;
    fprintf(out, " %-*s%5s%5s%s%6s%5s%5s%5s%5s%5s%5s%4s\n", taps ? TAP_WIDTH : 0,
            taps ? "blower tap" : "", "air", "per", taps ? " duct" : "", "net", "sens", "lat-",
            "suct", "sup-", "spl-", "EER", "RH");
    fprintf(out, " %-*s%5s%5s%s%6s%5s%5s%5s%5s%5s%5s%4s\n", taps ? TAP_WIDTH : 0, "",
            m ? "L/s" : "cfm", "ton", taps ? m ? "   Pa" : " inwc" : "", "total", "ible", "ent",
            m ? "C" : "F", "ply", "it", "", "%");
}

static marks print_rows(FILE *out, const sweep_result *r)
{
    const ct_sweep *s = r->view.sweep;
    marks of = {false, 0};
    for (int i = 0; i < s->n_taps; i++)
        put_point(out, r, &s->tap[i], &of);
    const int most = r->view.pick->found || r->full ? ROWS_WITHOUT_TAPS : ROWS_WITHOUT_PICK;
    const int rows = s->n < most ? s->n : most;
    const int pick = r->view.pick->found && !r->view.pick->from_taps ? r->view.pick->index : -1;
    int shown_to = -1;
    for (int k = 0; s->n_taps == 0 && k < rows; k++) {
        const int i = k * (s->n - 1) / (rows - 1);
        if (pick > shown_to && pick < i) put_point(out, r, &s->point[pick], &of);
        put_point(out, r, &s->point[i], &of);
        shown_to = i;
    }
    return of;
}

/* Every question and note: not on the screenful of a case in which nothing passes. */
static bool says_all(const sweep_result *r)
{
    return r->view.pick->found || r->full || r->view.pick->refused;
}

static void print_table(FILE *out, const sweep_result *r)
{
    put_heading(out, r);
    /* Without a pick the lines above name the other limits; the report is to stay a screenful. */
    const marks of = print_rows(out, r);
    if (of.more && (r->full || r->view.pick->found)) fputs(MORE_FAIL, out);
    note_marks_explain(out, of.notes, says_all(r) ? "the notes" : "`metering`");
    fprintf(out,
            " Capacities in %s in this return air, blower heat taken off; per ton:\n"
            " standard air; suct: saturated suction; RH: settled, at %.0f%% of the load.\n",
            r->metric ? "kW" : "1000 Btu/h", 100 * r->view.job->c->house.humidity_load);
    if (r->full && r->view.job->c->house.judge_load_at == CT_LOAD_SETTLED)
        fputs(" The load is not compared with these but with the sensible capacity in the air\n"
              " the house settles at under that load.\n",
              out);
}

/* The same on the low stage, whose tons are its own. */
static void print_low_table(FILE *out, const sweep_result *r)
{
    sweep_result low = *r;
    if (!r->low) return;
    low.view = *r->low;
    fputs("\n Low stage; per ton of it; RH: settled on it alone\n", out);
    put_heading(out, &low);
    const marks of = print_rows(out, &low);
    if (of.more) fputs(MORE_FAIL, out);
    note_marks_explain(out, of.notes, "`metering`");
}

/* ---- Calibration and assumptions -------------------------------------------------- */

static void print_doubts(FILE *out, const sweep_result *r)
{
    char line[PLAUSIBILITY_LINES][PLAUSIBILITY_SIZE];
    const int n = sweep_calibration_doubts(r->j, line);
    if (n == 0 && r->full)
        fprintf(out, "Compressor efficiency from the nameplate: %.0f%%, in the usual range.\n",
                100 * r->j->calibration.eta_rated);
    for (int i = 0; i < n; i++)
        paragraph_wrap(out, line[i], "Warning: ", 2);
}

static void print_reasons(FILE *out, const ct_case_report *report)
{
    for (int i = 0; i < report->n_assumed; i++) {
        const ct_assumed *a = &report->assumed[i];
        paragraph_wrap_text(out, "assumed: ", 11, "%s = %s%s%s", a->key, a->text,
                            a->why[0] ? "; " : "", a->why);
    }
}

static void print_charge(FILE *out, const sweep_result *r)
{
    const char *words = charge_words(r->j->c, 0);
    if (words) paragraph_wrap(out, words, "", 0);
}

/* Keys and values in one paragraph, none broken over two lines, so that the list does not push the
 * pick off a small screen; a line each with its reason when asked for. */
static void print_assumed(FILE *out, const sweep_result *r)
{
    const ct_case_report *report = r->j->report;
    char
        text[CT_MAX_ASSUMED * (sizeof report->assumed[0].key + sizeof report->assumed[0].text + 8)];
    size_t used = 0;
    if (report->n_assumed == 0) return;
    fputs("\n", out);
    if (r->reasons) {
        print_reasons(out, report);
        print_charge(out, r);
        return;
    }
    for (int i = 0; i < report->n_assumed; i++) {
        const ct_assumed *a = &report->assumed[i];
        const size_t begun = used;
        used += (size_t)sprintf(text + used, "%s%s = %s", i ? "; " : "", a->key, a->text);
        for (size_t k = begun + (i ? 2 : 0); k < used; k++)
            if (text[k] == ' ') text[k] = TIED;
    }
    paragraph_wrap_text(out, "assumed: ", 9, "%s", text);
    fputs("(--reasons shows where these come from)\n", out);
    print_charge(out, r);
}

static void print_cautions(FILE *out, const sweep_result *r)
{
    const ct_limits *l = &r->view.job->c->limits;
    const bool heat_known = l->V_heat_min.has || l->P_strip.has || l->Q_furnace.has;
    fputs("\nCautions: refrigerant and line-voltage work is for licensed people, after the\n"
          "local code and the manufacturers' instructions, which come before these numbers.\n",
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
    title_print(out, r->j);
    title_print_unit(out, r->view.job->unit);
    title_print_weather(out, r->view.job->T_out, &r->view.job->indoor, r->metric);
    tuned_print(out, &r->j->c->tuning);
    fputc('\n', out);
}

/* What the gauges and a thermometer should show at the pick. */
static void print_check(FILE *out, const sweep_result *r, const ct_point *p)
{
    char suction[SHOWN_SIZE], supply[SHOWN_SIZE], split[SHOWN_SIZE], dp[SHOWN_SIZE];
    if (!p || p->status != CT_OK) return;
    const ct_balance *b = &p->balance;
    paragraph_wrap_text(out, "Check: ", 2,
                        "saturated suction %s, supply air %s, split %s%s%s; `page` has more.",
                        shown(suction, Q_TEMPERATURE, b->Te, r->metric),
                        shown(supply, Q_TEMPERATURE, b->supply.T, r->metric),
                        shown(split, Q_DELTA_T, r->view.job->indoor.T - b->supply.T, r->metric),
                        p->has_dp ? ", external static " : "",
                        p->has_dp ? shown(dp, Q_STATIC, p->dp, r->metric) : "");
}

/* What a screenful leaves out. */
static void print_full(FILE *out, const sweep_result *r)
{
    pick_text_failures(out, r);
    pick_text_loads(out, r);
}

/* The keys an uncertain input comes from, where a case may leave them to be assumed. */
static const struct {
    ct_vary_input input;
    const char *key;
} uncertain_keys[] = {{CT_VARY_CAPACITY, "outdoor.rated_capacity"},
                      {CT_VARY_EER, "outdoor.rated_eer"},
                      {CT_VARY_SHR, "outdoor.rated_sensible_ratio"},
                      {CT_VARY_DUCT_STATIC, "duct.old_coil_drop"},
                      {CT_VARY_COIL, "indoor.coil.size"},
                      {CT_VARY_HUMIDITY_LOAD, "house.humidity_load"}};

static const ct_assumed *assumed_key(const ct_case_report *report, const char *key)
{
    for (int i = 0; i < report->n_assumed; i++)
        if (strcmp(report->assumed[i].key, key) == 0) return &report->assumed[i];
    return NULL;
}

/* Assumed values that would move the pick when they are off by their usual doubt. */
static void print_that_matter(FILE *out, const sweep_result *r)
{
    char text[300] = "";
    size_t n = 0;
    for (size_t i = 0; i < sizeof uncertain_keys / sizeof *uncertain_keys; i++) {
        const ct_assumed *a = assumed_key(r->j->report, uncertain_keys[i].key);
        if (!a || !r->outlook.close.moves[uncertain_keys[i].input]) continue;
        n += (size_t)snprintf(text + n, sizeof text - n, "%s%s = %s", n ? "; " : "", a->key,
                              a->text);
        if (n >= sizeof text) break;
    }
    if (text[0])
        paragraph_wrap_text(out, "Assumed: ", 2, "%s; off by its usual doubt it moves the pick.",
                            text);
}

/* Assumed values are counted, and listed when asked for. */
static void print_rest(FILE *out, const sweep_result *r)
{
    if (r->assumed || r->reasons || r->full)
        print_assumed(out, r);
    else
        print_that_matter(out, r);
    if (r->full) {
        print_cautions(out, r);
        return;
    }
    paragraph_wrap_text(
        out, "", 2,
        "%d values are assumed (--assumed lists them). --full: %s. Licensed work: local code "
        "comes first.",
        r->j->report->n_assumed,
        r->view.pick->found ? "the house, other speeds, failures, loads, cautions"
                            : "every failure, fix, question, note and caution");
}

/* Which speed and why, or why none; a unit that is refused has had its line. */
static void print_answer_of(FILE *out, const sweep_result *r, const ct_point *pick)
{
    if (pick) {
        pick_text_pick(out, r, pick);
        pick_text_advice(out, r, pick);
        beside_print(out, r, pick);
        if (r->has_switches) switches_print(out, &r->switches, r->view.job, pick, r->metric);
    } else if (!r->view.pick->refused) {
        pick_text_none(out, r);
    }
    if (!r->view.pick->refused) low_stage_print(out, r->view.job, r->metric);
    heating_print(out, r->view.job, 0, r->metric);
}

/* What to ask and to look at, liquid at the compressor before all else. Where no speed passes,
 * there is no job yet to ask about: on a screenful the input that looks wrong is asked, the rest
 * counted. */
static void print_findings(FILE *out, const sweep_result *r)
{
    const bool all = says_all(r);
    const noted_speeds noted = {r->view.job, r->view.sweep, r->view.pick};
    if (all) noted_speeds_print(out, &noted, CT_NOTE_LITTLE_SUPERHEAT, r->metric);
    if (!r->quiet && !all) verdict_print_first_odd(out, &r->verdict);
    if (!r->quiet && all) verdict_print_findings(out, &r->verdict, 0);
    if (all) noted_speeds_print(out, &noted, ~CT_NOTE_LITTLE_SUPERHEAT, r->metric);
}

void sweep_text_print(FILE *out, const sweep_result *r)
{
    const ct_point *pick = ct_pick_point(r->view.pick, r->view.sweep);
    verdict_print(out, &r->verdict, 0);
    if (!r->quiet) print_title(out, r);
    print_answer_of(out, r, pick);
    if (!r->quiet) {
        if (!r->view.pick->refused) fputc('\n', out);
        print_table(out, r);
        if (r->full) print_low_table(out, r);
        heat_pump_print(out, r->view.job, r->metric);
        ways_print(out, r->j->c, &r->j->ways, r->metric);
    }
    print_findings(out, r);
    if (r->uncertain) uncertain_print(out, r->uncertain, pick, r->quiet, r->metric);
    if (r->quiet) return;
    if (pick) pick_text_hottest(out, r);
    print_check(out, r, pick);
    if (r->full) print_full(out, r);
    print_doubts(out, r);
    print_rest(out, r);
}
