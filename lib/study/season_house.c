#include "case/no_load.h"
#include "study/season.h"

#include <math.h>
#include <stdlib.h>

#include "base/units.h"
#include "fluid/air.h"
#include "plant/seasonal.h"

#define CEILING (8.0 * CT_M_PER_FT)

double ct_season_floor(const ct_case *c)
{
    if (c->season.A_floor.has) return c->season.A_floor.v;
    if (c->house.ways.floor_area.has) return c->house.ways.floor_area.v;
    return CT_SEASON_FLOOR_PER_TON * c->outdoor.tons;
}

ct_status ct_season_house_of(const ct_sweep_job *job, bool hourly, ct_season_house *out,
                             ct_fault *fault)
{
    const ct_case *c = job->c;
    const ct_house *h = &c->house;
    const ct_season_spec *s = &c->season;
    const ct_air *in = &job->indoor;

    const bool leaks = h->infiltration.has && h->infiltration.v > 0.0;
    if (hourly && !leaks)
        return ct_fault_say(
            fault, CT_INPUT,
            "an hourly season needs house.infiltration: without it nothing takes "
            "moisture out on cool days; give it, such as 60 cfm, and take its part out of "
            "latent_load");
    *out = (ct_season_house){
        .room = {.T = in->T,
                 .p = in->p,
                 .Q_latent = s->Q_latent.has ? s->Q_latent.v : h->Q_latent,
                 .fan_on = h->fan_on,
                 .fan_delay = !h->fan_on && h->fan_off_delay.has ? h->fan_off_delay.v : 0.0,
                 .coil = CT_REEVAPORATION_USUAL},
        .V_outdoor = h->infiltration.has ? h->infiltration.v : 0.0,
        .T_no_load = ct_case_no_load(h, in->T),
        .T_design = job->T_out,
        .Q_design = h->Q_sensible,
        .W_start = in->W,
        .storage = s->storage * ct_season_floor(c) * CEILING / ct_air_v(in->T, in->W, in->p),
        .CD = c->outdoor.CD,
        .control = c->control,
        .held = !leaks};
    if (out->T_design > out->T_no_load + 1.0) return CT_OK;
    return ct_fail(fault, CT_INPUT, out->T_design, out->T_no_load + 1.0, NAN,
                   "a season needs a design day hotter than %.0f F, at which the house needs no "
                   "cooling; the case has %.0f F",
                   ct_F_from_K(out->T_no_load), ct_F_from_K(out->T_design));
}

double ct_season_load(const ct_season_house *h, double T_out)
{
    return h->Q_design * (T_out - h->T_no_load) / (h->T_design - h->T_no_load);
}

/* Hours of the rating procedure's season for one hour at the design load. */
static double hours_per_load_hour(void)
{
    const ct_seasonal_bin *bin = ct_seasonal_bins();
    double load = 0.0;

    for (int i = 0; i < CT_SEASONAL_BINS; i++)
        load += bin[i].share * (bin[i].T - CT_SEASONAL_T_NO_LOAD) /
                (CT_RATING_T_OUT - CT_SEASONAL_T_NO_LOAD);
    return 1.0 / load;
}

ct_status ct_season_rating_weather(const ct_sweep_job *job, ct_weather *out, ct_fault *fault)
{
    const ct_seasonal_bin *bin = ct_seasonal_bins();
    const double hours = job->c->season.load_hours * hours_per_load_hour();
    ct_weather_hour *hour = calloc(CT_SEASONAL_BINS, sizeof *hour);

    if (!hour) return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    for (int i = 0; i < CT_SEASONAL_BINS; i++) {
        ct_air air = job->indoor;
        const bool known = ct_humidity_outdoor_air(job->c, air.p, bin[i].T, &air, NULL) == CT_OK;
        hour[i] = (ct_weather_hour){hours * bin[i].share, bin[i].T, known ? air.W : job->indoor.W};
    }
    *out = (ct_weather){.n = CT_SEASONAL_BINS, .hour = hour};
    return CT_OK;
}

ct_season_range ct_season_range_of(const ct_season_house *h, const ct_weather *w)
{
    ct_season_range range = {h->T_design, h->T_no_load};

    for (int i = 0; i < w->n; i++) {
        if (w->hour[i].T <= h->T_no_load) continue;
        range.low = fmin(range.low, w->hour[i].T);
        range.high = fmax(range.high, w->hour[i].T);
    }
    return range;
}

typedef struct {
    double rh, hours;
} dampness;

static int dampest_first(const void *a, const void *b)
{
    const double x = ((const dampness *)a)->rh, y = ((const dampness *)b)->rh;

    return (x < y) - (x > y);
}

/* Steps down the list: at a share of the hours, the humidity of the hour that share falls into. */
static void read_off(const dampness *d, int n_hours, double all, int n, double *rh)
{
    double past = d[0].hours;

    for (int i = 0, k = 0; i < n; i++) {
        while (k + 1 < n_hours && past < all * i / (n - 1) * (1.0 - 1e-12))
            past += d[++k].hours;
        rh[i] = d[k].rh;
    }
}

ct_status ct_season_duration(const ct_weather *w, const ct_season_trace *t, int n, double *rh,
                             ct_fault *fault)
{
    dampness *d = malloc((size_t)w->n * sizeof *d);
    double all = 0.0;
    int k = 0;

    if (!d) return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    for (int i = 0; i < w->n; i++) {
        if (!t->counted[i]) continue;
        d[k++] = (dampness){t->rh[i], w->hour[i].hours};
        all += w->hour[i].hours;
    }
    qsort(d, (size_t)k, sizeof *d, dampest_first);
    if (k > 0) read_off(d, k, all, n, rh);
    free(d);
    return k > 0 ? CT_OK : ct_fault_say(fault, CT_INPUT, "no hour of the season needs cooling");
}
