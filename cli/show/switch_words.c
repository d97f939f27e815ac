#include "show/switch_words.h"

#include <math.h>

#include "base/paragraph.h"
#include "judge/fan_control.h"
#include "show/json_out.h"
#include "show/limit_words.h"

#define MATTERS 0.003 /* of RH: a difference worth a word, 0.3% */

static bool settles(const ct_switches *w, ct_switch i)
{
    return w->at[i].status == CT_OK;
}

static double percent(const ct_switches *w, ct_switch i)
{
    return 100.0 * w->at[i].room.rh;
}

/* How much damper than with a blower that stops with the compressor, where the whole percent shown
 * differ; else 0: "46% instead of 46%" would say nothing. */
static double damper(const ct_switches *w, ct_switch i)
{
    const bool same = !(fabs(round(percent(w, i)) - round(percent(w, CT_SWITCH_STOPS))) > 0.5);
    return same ? 0.0 : w->at[i].room.rh - w->at[CT_SWITCH_STOPS].room.rh;
}

static void explain_fan(FILE *out, const ct_switches *w)
{
    fputs("Fan on AUTO", out);
    if (settles(w, CT_SWITCH_FAN_ON) && damper(w, CT_SWITCH_FAN_ON) > MATTERS)
        fprintf(out, ", not ON: %.0f%% at the damp hour instead of %.0f%%",
                percent(w, CT_SWITCH_FAN_ON), percent(w, CT_SWITCH_STOPS));
    fputs(". ", out);
    if (!settles(w, CT_SWITCH_RUNS_ON)) return;
    if (damper(w, CT_SWITCH_RUNS_ON) > MATTERS)
        fprintf(out,
                "No blower run-on after the compressor: %.0f s of it would make the house damper, "
                "%.0f%% instead of %.0f%%. ",
                w->run_on, percent(w, CT_SWITCH_RUNS_ON), percent(w, CT_SWITCH_STOPS));
    else
        fprintf(out, "A blower run-on of %.0f s changes little here. ", w->run_on);
}

static void explain_start(FILE *out, const ct_switches *w, const ct_case *c)
{
    if (!settles(w, CT_SWITCH_STARTS) || c->control.start_time <= 0.0) return;
    if (damper(w, CT_SWITCH_STARTS) < -MATTERS)
        fprintf(out, "Slow start, if it has one, on: %.0f s of it make %.0f%%. ",
                c->control.start_time, percent(w, CT_SWITCH_STARTS));
}

static void say_why_not(FILE *out, const ct_switches *w, bool metric)
{
    const ct_limit limit = (ct_limit)w->slow_fails;
    limit_explain(out, limit, &w->slow.limit[limit], &w->slow, metric);
}

static void explain_forbidden(FILE *out, const ct_switches *w, bool metric)
{
    fputs("Airflow cut on humidity off at this speed: ", out);
    say_why_not(out, w, metric);
    fputs(". ", out);
}

/* Does less air, all the time, leave the house too damp, so that over-cooling is worth a word? */
static bool needs_overcool(const ct_switches *w, const ct_case *c)
{
    const ct_switched *cut = &w->at[CT_SWITCH_HUMIDITY];
    return settles(w, CT_SWITCH_HUMIDITY) && settles(w, CT_SWITCH_OVERCOOL) &&
           c->control.overcool > 0.0 && cut->slowed >= 1.0 && cut->room.rh > c->control.rh_on;
}

static void explain_overcool(FILE *out, const ct_switches *w, const ct_case *c, bool metric)
{
    char T[SHOWN_SIZE], less[SHOWN_SIZE];
    const ct_switched *cooler = &w->at[CT_SWITCH_OVERCOOL];
    fprintf(out, "That is not enough; over-cooling by %s as well makes %.0f%% at %s%s. ",
            shown(less, Q_DELTA_T, c->control.overcool, metric), 100.0 * cooler->room.rh,
            shown(T, Q_TEMPERATURE, cooler->T, metric),
            cooler->room.always_on ? ", running all the time" : "");
}

static void explain_cut(FILE *out, const ct_switches *w, const ct_case *c, bool metric)
{
    const ct_fan_control *k = &c->control;
    const ct_switched *cut = &w->at[CT_SWITCH_HUMIDITY];
    if (w->at[CT_SWITCH_STOPS].room.rh <= k->rh_off) {
        fputs("Airflow cut on humidity, if it has one, is not needed. ", out);
        return;
    }
    if (w->slow_fails >= 0) {
        explain_forbidden(out, w, metric);
        return;
    }
    if (!settles(w, CT_SWITCH_HUMIDITY)) return;
    fprintf(out,
            "Airflow cut on humidity, if it has one, on: %.0f%% less air above %.0f%% makes "
            "%.0f%%%s. ",
            100.0 * k->cut, 100.0 * k->rh_on, 100.0 * cut->room.rh,
            cut->room.always_on ? ", with the sensible load not carried" : "");
    if (needs_overcool(w, c)) explain_overcool(out, w, c, metric);
}

void switches_explain(FILE *out, const ct_switches *w, const ct_case *c, bool metric)
{
    if (!settles(w, CT_SWITCH_STOPS)) {
        fputs("The house settles at no humidity at the damp hour.", out);
        return;
    }
    explain_fan(out, w);
    explain_start(out, w, c);
    explain_cut(out, w, c, metric);
}

/* ---- One line -------------------------------------------------------------------- */

static bool runs_on(const ct_house *h)
{
    return !h->fan_on && h->fan_off_delay.has && h->fan_off_delay.v > 0.0;
}

bool switches_are_set(const ct_case *c)
{
    return c->house.fan_on || ct_fan_control_cuts(&c->control);
}

static void say_setting(FILE *out, const ct_case *c)
{
    const ct_fan_control *k = &c->control;
    fputs(c->house.fan_on ? "fan ON" : "fan AUTO", out);
    if (runs_on(&c->house)) fprintf(out, ", %.0f s run-on", c->house.fan_off_delay.v);
    if (k->slow_start) fprintf(out, ", slow start %.0f s", k->start_time);
    if (k->cut_when_damp)
        fprintf(out, ", %.0f%% less air above %.0f%% RH", 100.0 * k->cut, 100.0 * k->rh_on);
}

void switches_print_setting(FILE *out, const ct_case *c)
{
    paragraph text;
    FILE *t;
    if ((!switches_are_set(c) && !runs_on(&c->house)) || !(t = paragraph_open(&text))) return;
    say_setting(t, c);
    fputs(", in every hour.", t);
    paragraph_print(&text, out, "Fan control: ", 2);
}

static void say_other(FILE *out, const ct_switches *w, ct_switch i, const char **between)
{
    static const char *const names[CT_SWITCH_COUNT] = {
        [CT_SWITCH_STOPS] = "plain AUTO",
        [CT_SWITCH_FAN_ON] = "fan ON",
        [CT_SWITCH_HUMIDITY] = "airflow cut on humidity",
        [CT_SWITCH_OVERCOOL] = "over-cooling as well"};
    if (!settles(w, i)) return;
    fprintf(out, "%s%s %.0f%%", *between, names[i], percent(w, i));
    *between = ", ";
}

static void say_others(FILE *out, const ct_switches *w, const ct_case *c)
{
    const char *between = "; with ";
    if (c->house.fan_on || runs_on(&c->house) || ct_fan_control_cuts(&c->control))
        say_other(out, w, CT_SWITCH_STOPS, &between);
    if (!c->house.fan_on) say_other(out, w, CT_SWITCH_FAN_ON, &between);
    if (!c->control.cut_when_damp && w->slow_fails < 0)
        say_other(out, w, CT_SWITCH_HUMIDITY, &between);
    if (w->slow_fails < 0 && needs_overcool(w, c)) say_other(out, w, CT_SWITCH_OVERCOOL, &between);
}

void switches_print(FILE *out, const ct_switches *w, const ct_sweep_job *job, const ct_point *p,
                    bool metric)
{
    paragraph text;
    FILE *t;
    if (!p->has_room || !(t = paragraph_open(&text))) return;
    say_setting(t, job->c);
    fprintf(t, ": the house settles at %.0f%%", 100.0 * p->room.rh);
    if (p->slowed > 0.0) fprintf(t, ", %.0f%% of the run at the cut airflow", 100.0 * p->slowed);
    if (ct_fan_control_cuts(&job->c->control) && w->slow_fails >= 0) {
        fputs(" (there it FAILS: ", t);
        say_why_not(t, w, metric);
        fputc(')', t);
    }
    say_others(t, w, job->c);
    fputc('.', t);
    paragraph_print(&text, out, "Fan control: ", 2);
}

/* ---- JSON ------------------------------------------------------------------------ */

static bool put_setting(json_t *o, const ct_case *c, bool si)
{
    const ct_fan_control *k = &c->control;
    return put_bool(o, "fan_on", c->house.fan_on) &&
           put_value(o, "run_on_s", Q_PLAIN, runs_on(&c->house) ? c->house.fan_off_delay.v : 0.0,
                     si) &&
           put_bool(o, "cut_when_damp", k->cut_when_damp) &&
           put_bool(o, "slow_start", k->slow_start) &&
           put_value(o, "airflow_cut", Q_FRACTION, k->cut, si) &&
           put_value(o, "humidity_on", Q_FRACTION, k->rh_on, si) &&
           put_value(o, "humidity_off", Q_FRACTION, k->rh_off, si) &&
           put_value(o, "overcool", Q_DELTA_T, k->overcool, si) &&
           put_value(o, "start_time_s", Q_PLAIN, k->start_time, si);
}

bool switches_put_setting(json_t *object, const ct_case *c, bool si)
{
    json_t *o = open_object(object, "fan_control");
    return o && put_setting(o, c, si);
}

static bool put_settled(json_t *parent, const char *name, const ct_switched *w, bool si)
{
    if (w->status != CT_OK) return true;
    json_t *o = open_object(parent, name);
    return o && put_value(o, "rh_settled", Q_FRACTION, w->room.rh, si) &&
           put_value(o, "run_share", Q_FRACTION, w->room.run, si) &&
           put_value(o, "share_at_cut", Q_FRACTION, w->slowed, si) &&
           put_value(o, "room", Q_TEMPERATURE, w->T, si);
}

bool switches_put(json_t *object, const ct_switches *w, const ct_sweep_job *job, const ct_point *p,
                  bool si)
{
    static const char *const names[CT_SWITCH_COUNT] = {
        [CT_SWITCH_STOPS] = "plain_auto",       [CT_SWITCH_RUNS_ON] = "run_on",
        [CT_SWITCH_FAN_ON] = "fan_on",          [CT_SWITCH_STARTS] = "slow_start",
        [CT_SWITCH_HUMIDITY] = "cut_when_damp", [CT_SWITCH_OVERCOOL] = "cut_and_overcool"};
    const ct_switched as_set = {.status = p->has_room ? CT_OK : CT_NO_ROOT,
                                .room = p->room,
                                .T = job->indoor.T,
                                .slowed = p->slowed};
    json_t *o = open_object(object, "fan_control"), *set = o ? open_object(o, "set") : NULL;
    bool good = set && put_setting(set, job->c, si) && put_settled(o, "as_set", &as_set, si);
    json_t *others = good ? open_object(o, "settings") : NULL;
    good = others != NULL;
    for (int i = 0; good && i < CT_SWITCH_COUNT; i++)
        good = put_settled(others, names[i], &w->at[i], si);
    return good && (w->slow_fails < 0 ||
                    put_text(o, "cut_fails_on", ct_limit_of((ct_limit)w->slow_fails)->token));
}
