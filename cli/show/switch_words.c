#include "show/switch_words.h"

#include "show/limit_words.h"

#define MATTERS 0.003 /* of RH: a difference worth a word, 0.3 % */

static bool settles(const ct_switches *w, ct_switch i)
{
    return w->at[i].status == CT_OK;
}

static double percent(const ct_switches *w, ct_switch i)
{
    return 100.0 * w->at[i].room.rh;
}

/* How much damper than with a blower that stops with the compressor. */
static double damper(const ct_switches *w, ct_switch i)
{
    return w->at[i].room.rh - w->at[CT_SWITCH_STOPS].room.rh;
}

static void explain_fan(FILE *out, const ct_switches *w)
{
    fputs("Fan on AUTO", out);
    if (settles(w, CT_SWITCH_FAN_ON) && damper(w, CT_SWITCH_FAN_ON) > MATTERS)
        fprintf(out, ", not ON: %.0f %% at the damp hour instead of %.0f %%",
                percent(w, CT_SWITCH_FAN_ON), percent(w, CT_SWITCH_STOPS));
    fputs(". ", out);
    if (!settles(w, CT_SWITCH_RUNS_ON)) return;
    if (damper(w, CT_SWITCH_RUNS_ON) > MATTERS)
        fprintf(out,
                "No blower run-on after the compressor: %.0f s of it would make %.1f %% of "
                "%.1f %%. ",
                w->run_on, percent(w, CT_SWITCH_RUNS_ON), percent(w, CT_SWITCH_STOPS));
    else
        fprintf(out, "A blower run-on of %.0f s does no harm here. ", w->run_on);
}

static void explain_start(FILE *out, const ct_switches *w, const ct_case *c)
{
    if (!settles(w, CT_SWITCH_STARTS) || c->control.start_time <= 0.0) return;
    if (damper(w, CT_SWITCH_STARTS) < -MATTERS)
        fprintf(out, "Slow start, if it has one, on: %.0f s of it make %.1f %%. ",
                c->control.start_time, percent(w, CT_SWITCH_STARTS));
}

static void explain_forbidden(FILE *out, const ct_switches *w, bool metric)
{
    const ct_limit limit = (ct_limit)w->slow_fails;
    fprintf(out, "Airflow cut on humidity off at this speed: ");
    limit_explain(out, limit, &w->slow.limit[limit], &w->slow, metric);
    fputs(". ", out);
}

static void explain_overcool(FILE *out, const ct_switches *w, const ct_case *c, bool metric)
{
    char T[SHOWN_SIZE], less[SHOWN_SIZE];
    const ct_switched *cooler = &w->at[CT_SWITCH_OVERCOOL];
    if (!settles(w, CT_SWITCH_OVERCOOL) || c->control.overcool <= 0.0) return;
    fprintf(out, "That is not enough; over-cooling by %s as well makes %.0f %% at %s%s. ",
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
            "Airflow cut on humidity, if it has one, on: %.0f %% less air above %.0f %% makes "
            "%.1f %%%s. ",
            100.0 * k->cut, 100.0 * k->rh_on, 100.0 * cut->room.rh,
            cut->room.always_on ? ", with the sensible load not carried" : "");
    if (cut->slowed >= 1.0 && cut->room.rh > k->rh_on) explain_overcool(out, w, c, metric);
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
