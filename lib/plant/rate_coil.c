#include "plant/rate_coil.h"

#include <math.h>

#include "base/search.h"
#include "base/units.h"
#include "part/coil_drop.h"

/* ---- The matched coil: two conductances from total capacity and sensible heat ratio */

typedef struct {
    ct_coil coil;        /* trial */
    const ct_coil *unit; /* the coil before its size is known */
    const ct_rating_point *p;
    double C_r, superheat; /* vapor capacity rate and superheat */
    double UAi;            /* latest refrigerant side */
    ct_coil_through path;
    double SHR, SHR_wanted;
    double guess, slope; /* where the next refrigerant side is looked for */
    ct_coil_air air;
} coil_trial;

#define LOG_UAI_LOW 0.0               /* log of 1 W/K */
#define LOG_UAI_HIGH 13.8155105579643 /* log of 1e6 W/K */
#define HEAT_TOL 1e-12
#define SHR_TOL 1e-11

static bool set_air_side(coil_trial *t, double log_factor)
{
    ct_fault ignored;

    t->coil = *t->unit;
    if (t->unit->has_geometry)
        t->coil.film_scale = exp(log_factor);
    else
        t->coil.Ao = t->unit->Ao * exp(log_factor);
    return ct_coil_at_air(&t->coil, &t->p->air, t->p->m_da, &t->air, &ignored) == CT_OK;
}

static double heat_short(double log_UAi, void *context)
{
    coil_trial *t = context;
    const ct_rating_point *p = t->p;
    double Q_boil = p->m * (p->h_g - p->h_liquid);
    ct_coil_tubes tubes = {
        .T_boil = p->T_boil, .T_dew = p->T_coil, .C_r = t->C_r, .superheat = t->superheat};

    t->UAi = tubes.UAi = exp(log_UAi);
    ct_coil_run(&t->coil, &t->air, &tubes, &t->path);
    if (!(t->path.superheat_area < 1.0)) return -1.0;
    return (t->path.Q_boil - Q_boil) / Q_boil;
}

static void note_shr(coil_trial *t)
{
    ct_coil_total total;

    ct_coil_leave(&t->air, &t->path, &total);
    t->SHR = total.Q_sens / total.Q;
}

/* For one air side: the refrigerant side that gives the rated total, and the SHR that follows. */
static bool solve_refrigerant_side(coil_trial *t)
{
    ct_root_job job = {.start = t->guess,
                       .step = 1.0,
                       .low = LOG_UAI_LOW,
                       .high = LOG_UAI_HIGH,
                       .slope = t->slope,
                       .rising = true,
                       .tol = HEAT_TOL};
    ct_root_result r;
    ct_root_end end = ct_search_root(heat_short, t, &job, &r);

    /* A bracket narrowed to neighboring doubles is a root of this smooth residual. */
    if (end != CT_ROOT_FOUND && !(fabs(r.f) < 1e-10)) return false;
    if (t->UAi != exp(r.x)) heat_short(r.x, t);
    t->guess = r.x;
    t->slope = r.slope;
    note_shr(t);
    return true;
}

static double shr_short(double log_factor, void *context)
{
    coil_trial *t = context;

    if (!set_air_side(t, log_factor) || !solve_refrigerant_side(t)) return -1.0;
    return t->SHR - t->SHR_wanted;
}

/* Heat with the best refrigerant side there is; rises with the air side. */
static double heat_short_at_best(double log_factor, void *context)
{
    coil_trial *t = context;

    return set_air_side(t, log_factor) ? heat_short(LOG_UAI_HIGH, t) : -1.0;
}

/* Smallest air side that can reach the capacity at all, on a logarithmic scale: too small and no
 * refrigerant side can do the rest. */
static bool smallest_air_side(coil_trial *t, double *low)
{
    ct_root_job job = {.start = 0.0,
                       .step = 0.5,
                       .low = log(0.02),
                       .high = log(4.0),
                       .rising = true,
                       .tol = 0.1 * HEAT_TOL};
    ct_root_result r;
    ct_root_end end = ct_search_root(heat_short_at_best, t, &job, &r);

    *low = r.x;
    if (end == CT_ROOT_FOUND || fabs(r.f) < HEAT_TOL) return true;
    *low = job.low;
    return heat_short_at_best(job.low, t) > 0.0;
}

/* Highest point of the parabola through three points evenly apart around x. */
static double vertex(double x, double step, double before, double at, double after)
{
    double bend = before - 2.0 * at + after;

    return bend < 0.0 ? x + 0.5 * step * (before - after) / bend : x;
}

/* From the smallest air side the sensible heat ratio climbs as the air side grows (a warmer surface
 * does the work) up to a peak, past which the refrigerant side has become so small that the dry
 * vapor share grows. Of the two coils with one ratio the smaller air side is the ordinary one.
 * Walks to the peak and closes in on it with parabolas; *start is where the ratio wanted was
 * passed. */
static double peak_air_side(coil_trial *t, double low, double *start)
{
    double step = 0.1, top = log(8.0);
    double x = low, before = -1.0, at = shr_short(low, t), after = at;

    *start = low;
    for (; x + step < top; x += step, before = at, at = after) {
        after = shr_short(x + step, t);
        if (after <= at) break;
        if (after < 0.0) *start = x + step;
    }
    if (!(x + step < top)) return x;
    for (; step > 1e-3 && x > low; step *= 0.1) {
        x = fmax(vertex(x, step, before, at, after), low + 0.1 * step);
        before = shr_short(x - 0.1 * step, t);
        at = shr_short(x, t);
        after = shr_short(x + 0.1 * step, t);
    }
    return x;
}

static ct_status fit_coil(coil_trial *t, ct_calibration *cal, ct_fault *fault)
{
    ct_root_result r;

    double low;
    if (!smallest_air_side(t, &low))
        return ct_fail(fault, CT_INPUT, t->p->T_suction, NAN, NAN,
                       "no coil gives the rated capacity at %.0f F saturated suction and the rated "
                       "airflow: check rated capacity, rated airflow, rated saturated suction and "
                       "superheat",
                       ct_F_from_K(t->p->T_suction));
    t->guess = LOG_UAI_HIGH;
    cal->SHR_min = shr_short(low, t) + t->SHR_wanted;
    double start;
    double high = peak_air_side(t, low, &start);
    cal->SHR_max = shr_short(high, t) + t->SHR_wanted;
    ct_root_job job = {
        .start = start, .step = 0.1, .low = low, .high = high, .rising = true, .tol = SHR_TOL};
    ct_root_end end = ct_search_root(shr_short, t, &job, &r);
    if (end != CT_ROOT_FOUND && !(fabs(r.f) < 1e-9))
        return ct_fail(
            fault, CT_INPUT, t->SHR_wanted, cal->SHR_min, cal->SHR_max,
            "rated sensible heat ratio %.3f cannot go with %.0f F saturated suction: possible "
            "%.3f to %.3f; change rated_sensible_ratio or rated_saturated_suction",
            t->SHR_wanted, ct_F_from_K(t->p->T_suction), cal->SHR_min, cal->SHR_max);
    shr_short(r.x, t);
    return CT_OK;
}

/* ---- The same from a like coil: both conductances at once ------------------------ */

typedef struct {
    double heat, shr;
} shortfall;

typedef struct {
    double x, y; /* logs of air-side factor and refrigerant side */
} sides;

static bool both_short(coil_trial *t, sides at, shortfall *f)
{
    if (!(at.y > LOG_UAI_LOW && at.y < LOG_UAI_HIGH) || !(fabs(at.x) < 4.0)) return false;
    if (!set_air_side(t, at.x)) return false;
    f->heat = heat_short(at.y, t);
    if (!(t->path.superheat_area < 1.0)) return false;
    note_shr(t);
    f->shr = t->SHR - t->SHR_wanted;
    return isfinite(f->heat) && isfinite(f->shr);
}

typedef struct {
    double heat_x, heat_y, shr_x, shr_y; /* derivatives */
} slopes;

static bool measure_slopes(coil_trial *t, sides at, shortfall f, slopes *s)
{
    const double d = 1e-6;
    shortfall fx, fy;

    if (!both_short(t, (sides){at.x + d, at.y}, &fx) ||
        !both_short(t, (sides){at.x, at.y + d}, &fy))
        return false;
    *s = (slopes){(fx.heat - f.heat) / d, (fy.heat - f.heat) / d, (fx.shr - f.shr) / d,
                  (fy.shr - f.shr) / d};
    return true;
}

static bool newton_step(const slopes *s, shortfall f, sides *step)
{
    double det = s->heat_x * s->shr_y - s->heat_y * s->shr_x;

    step->x = -(f.heat * s->shr_y - f.shr * s->heat_y) / det;
    step->y = -(s->heat_x * f.shr - s->shr_x * f.heat) / det;
    return fabs(step->x) < 2.0 && fabs(step->y) < 2.0; /* false also for NaN */
}

/* Broyden's update: the slopes that would have foretold what the step brought. */
static void learn(slopes *s, sides step, shortfall f)
{
    double n = step.x * step.x + step.y * step.y;

    s->heat_x += f.heat * step.x / n;
    s->heat_y += f.heat * step.y / n;
    s->shr_x += f.shr * step.x / n;
    s->shr_y += f.shr * step.y / n;
}

/* On the ordinary branch the ratio rises with the air side while the heat is kept. Close to the
 * peak the sign is not certain: the full search decides. */
static bool on_rising_branch(coil_trial *t, sides at, shortfall f)
{
    slopes s;

    return measure_slopes(t, at, f, &s) && s.heat_y > 0.0 &&
           s.shr_x - s.shr_y * s.heat_x / s.heat_y > 1e-3;
}

/* Newton from the conductances of a like coil. False: not reached, or not safely; *t is then
 * wherever it came to. */
static bool fit_coil_near(coil_trial *t, const ct_coil *near)
{
    double factor = near->has_geometry ? near->film_scale : near->Ao / t->unit->Ao;
    sides at = {log(factor), log(near->UAi_ref)}, step;
    shortfall f;
    slopes s;

    if (near->has_geometry != t->unit->has_geometry) return false;
    if (!both_short(t, at, &f) || !measure_slopes(t, at, f, &s)) return false;
    for (int i = 0; i < 15; i++) {
        if (!newton_step(&s, f, &step)) return false;
        at = (sides){at.x + step.x, at.y + step.y};
        if (!both_short(t, at, &f)) return false;
        if (fabs(f.heat) <= HEAT_TOL && fabs(f.shr) <= SHR_TOL)
            return on_rising_branch(t, at, f) && both_short(t, at, &f);
        learn(&s, step, f);
    }
    return false;
}

/* The coil before its size is known: geometry as given, or the typical one, which lends the fin
 * efficiency, and the level and exponent of h; the area is what the nameplate needs. */
static ct_status unit_coil(const ct_case *c, const ct_rating_point *p, ct_coil *coil,
                           ct_fault *fault)
{
    double V = p->m_da * ct_air_v(p->air.T, p->air.W, p->air.p);
    ct_coil_geometry g = c->has_matched_geometry ? c->matched : ct_coil_typical(V, CT_FIN_PLAIN);
    ct_fin_air air = ct_finside_air(p->air.T, p->air.W, p->air.p, V / g.face);
    ct_finside_out fin;

    *coil = (ct_coil){.has_geometry = c->has_matched_geometry,
                      .geometry = g,
                      .film_scale = 1.0,
                      .m_air_ref = p->m_da,
                      .m_r_ref = p->m,
                      .n_r = CT_COIL_N_R,
                      .vapor_ratio = CT_COIL_VAPOR_RATIO};
    ct_status status = ct_finside_areas(&g, &coil->areas, fault);
    if (status == CT_OK) status = ct_finside(&g, &coil->areas, &air, &fin, fault);
    if (status == CT_OK) status = ct_finside_exponent(&g, &coil->areas, &air, &coil->n_air, fault);
    if (status != CT_OK) return status;
    coil->film_ref = fin.film;
    coil->Ao = coil->areas.Ao;
    return CT_OK;
}

ct_status ct_rate_coil(const ct_case *c, const ct_rating_point *p, const ct_coil *near,
                       ct_coil *matched, ct_calibration *cal, ct_fault *fault)
{
    coil_trial t = {.p = p,
                    .superheat = c->outdoor.superheat_rated,
                    .SHR_wanted = c->outdoor.SHR_rated,
                    .guess = log(1000.0)};
    ct_coil unit;
    ct_status status = unit_coil(c, p, &unit, fault);

    if (status != CT_OK) return status;
    t.unit = &unit;
    t.C_r = t.superheat > 0.0 ? p->m * (p->h_out - p->h_g) / t.superheat : 0.0;
    if (!near || !fit_coil_near(&t, near)) status = fit_coil(&t, cal, fault);
    if (status != CT_OK) return status;
    *matched = t.coil;
    matched->UAi_ref = t.UAi;
    cal->UAi = t.UAi;
    cal->UAo = t.air.UAo_dry;
    cal->superheat_area = t.path.superheat_area;
    cal->film_scale = unit.has_geometry ? t.coil.film_scale : (double)NAN;
    return CT_OK;
}
