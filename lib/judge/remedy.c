#include "judge/remedy.h"

#define ROW(id, bit, token, words) {CT_REMEDY_##id, token, words},

static const struct {
    unsigned remedy;
    const char *token, *words;
} rows[] = {CT_REMEDIES(ROW){CT_REMEDY_NONE, "none", "nothing"}};

static int row_of(unsigned remedy)
{
    int i = 0;

    while (rows[i].remedy && rows[i].remedy != remedy)
        i++;
    return i;
}

const char *ct_remedy_token(unsigned remedy)
{
    return rows[row_of(remedy)].token;
}

const char *ct_remedy_words(unsigned remedy)
{
    return rows[row_of(remedy)].words;
}

/* Is the sensible load carried anywhere on the airflow sweep? If so, it is the speeds that are
 * wrong, not the outdoor unit. */
static bool sensible_somewhere(const ct_sweep *s)
{
    for (int i = 0; i < s->n; i++)
        if (s->point[i].limit[CT_LIMIT_SENSIBLE].verdict == CT_PASSES) return true;
    return false;
}

/* A piston that leaves far more superheat than the outdoor unit was rated with costs capacity: try
 * its bore before anything larger. Twice as much is far: common practice, no source. */
static bool bore_too_small(const ct_sweep_job *job, const ct_sweep *s)
{
    int n;
    const ct_point *speeds = ct_sweep_speeds(s, &n), *fastest = &speeds[n - 1];

    return job->system.meter.kind == CT_METER_ORIFICE && fastest->status == CT_OK &&
           fastest->balance.superheat > 2.0 * job->c->outdoor.superheat_rated;
}

static unsigned for_load(const ct_sweep_job *job, const ct_sweep *s)
{
    unsigned fix =
        sensible_somewhere(s) ? CT_REMEDY_DUCTS : CT_REMEDY_LARGER_OUTDOOR | CT_REMEDY_LESS_LOAD;

    return bore_too_small(job, s) ? fix | CT_REMEDY_METERING : fix;
}

/* The remedy in each limit's own row. */
#define REMEDY(id, token, name, brief, title, measured, bound, kind, scale, remedy)                \
    [CT_LIMIT_##id] = CT_REMEDY_##remedy,

static const unsigned by_limit[CT_LIMIT_FIRST_ADVICE] = {CT_DECIDING_LIMITS(REMEDY)};

unsigned ct_remedies_for(const ct_sweep_job *job, const ct_sweep *s, const int *failing,
                         int n_points)
{
    unsigned fix = 0;

    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++)
        if (failing[i]) fix |= by_limit[i];
    if (failing[CT_LIMIT_HUMIDITY] && job->unit->coil.size > 1.0) fix |= CT_REMEDY_SMALLER_COIL;
    if (failing[CT_LIMIT_HUMIDITY] && ct_remedy_fan_runs_on(&job->c->house)) fix |= CT_REMEDY_FAN;
    if (failing[CT_LIMIT_SENSIBLE] == n_points) fix |= for_load(job, s);
    if (failing[CT_LIMIT_BALANCE] == n_points || (fix & CT_REMEDY_LARGER_OUTDOOR))
        fix |= CT_REMEDY_DO_NOT;
    return fix;
}
