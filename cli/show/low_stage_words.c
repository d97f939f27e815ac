#include "show/low_stage_words.h"

#include "base/paragraph.h"
#include "judge/fan_control.h"
#include "show/limit_words.h"
#include "show/tap_words.h"

const char *low_stage_kind(const ct_case *c)
{
    if (!c->outdoor.low.has) return "";
    return c->outdoor.stages == CT_STAGES_VARIABLE ? "variable-speed " : "two-stage ";
}

void low_stage_speed(FILE *out, const ct_sweep_job *job, bool metric)
{
    const ct_point *p = &job->low;
    char V[SHOWN_SIZE], per_ton[SHOWN_SIZE];

    tap_say(out, &job->unit->blower, p->tap);
    fprintf(out, "%s (%s of the low stage)", shown(V, Q_AIRFLOW, p->V, metric),
            shown(per_ton, Q_AIRFLOW_PER_TON, p->V_std_per_ton, metric));
}

/* Together with the high stage where the low one does not carry the hour alone. */
static void say_house(FILE *out, const ct_sweep_job *job)
{
    const ct_house *h = &job->c->house;
    const ct_room_out *room = &job->low.room;

    if (!job->low.has_room) return;
    fprintf(out, " At %.0f%% of the load ", 100 * h->humidity_load);
    if (room->always_on && room->Q_short > 0.0)
        fputs("it runs all the time and the high stage helps.", out);
    else
        fprintf(out, "it runs %.0f%% of the time and the house settles at %.0f%% RH.",
                100 * room->run, 100 * room->rh);
}

static void say_pick(FILE *out, const ct_sweep_job *job, bool metric)
{
    low_stage_speed(out, job, metric);
    fputs(", the driest that passes.", out);
    say_house(out, job);
    if (ct_fan_control_cuts(&job->c->control))
        fputs(" What the blower's controls do is not worked out for two stages.", out);
}

void low_stage_print(FILE *out, const ct_sweep_job *job, bool metric)
{
    paragraph p;
    FILE *text;

    if (!job->c->outdoor.low.has) return;
    if (!job->has_low) {
        paragraph_wrap(
            out,
            job->low_floods
                ? "no speed passes on it: the piston, charged for the high stage, floods "
                  "the coil. What is said here is for the high stage alone: lock the low "
                  "stage out or fit a valve, which follows both (--full shows each)."
                : "no speed passes on it; what is said here is for the high stage alone: "
                  "lock the low stage out or make one pass (--full shows each).",
            "Low stage: ", 2);
        return;
    }
    text = paragraph_open(&p);
    if (!text) return;
    say_pick(text, job, metric);
    paragraph_print(&p, out, "Low stage: ", 2);
}
