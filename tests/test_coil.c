/* Indoor coil against a fine-strip reference worked here by other means, closed forms in the limits
 * that have one, continuity where dry meets wet, and bookkeeping of heat and water. */
#include <stdio.h>

#include "base/units.h"
#include "check.h"
#include "part/coil.h"
#include "plant.h"

static plant three_ton;

static int make(void **state)
{
    (void)state;
    plant_make(&three_ton, "R-410A", 3);
    return 0;
}

static int drop(void **state)
{
    (void)state;
    plant_free(&three_ton);
    return 0;
}

/* ---- reference: strips along the air path, the fin equation integrated in each ---- */

enum { STRIPS = 400 };

static double W_sat(double T, double p)
{
    double ps = ct_air_psat_liquid(T);
    return 0.621945 * ps / (p - ps);
}

static double h_air(double T, double W)
{
    return 1006 * (T - 273.15) + W * (2501000 + 1860 * (T - 273.15));
}

/* Air, tubes and shape at one place. The fin is the circular one of Schmidt 1949, written out again
 * from the paper: base radius r, outer radius R r. */
typedef struct {
    const ct_coil *c;
    double h, T, W, p, Tr, UAi;
    double mr2, R; /* (m r)^2 */
    int steps;
    double tip; /* where the last one was */
} place;

static void fin_of(place *at, const ct_coil *c, double h)
{
    const ct_coil_geometry *g = &c->geometry;
    double r = 0.5 * g->tube_od + g->fin_thick, XT = 0.5 * g->pitch_t;
    double XD = 0.5 * sqrt(g->pitch_l * g->pitch_l + 0.25 * g->pitch_t * g->pitch_t);
    at->c = c;
    at->h = h;
    at->R = 1.27 * XT / r * sqrt(XD / XT - 0.3);
    at->mr2 = 2 * h / (g->fin_k * g->fin_thick) * r * r;
}

/* What a surface at Ts takes per h: sensible, vapor, enthalpy of its water, and all of it as heat
 * over cp. */
typedef struct {
    double sensible, vapor, water, heat;
} local;

static local local_at(const place *at, double Ts)
{
    double wet = fmax(0, at->W - W_sat(Ts, at->p)), t = Ts - 273.15, cp = 1006 + 1860 * at->W;
    local l = {at->T - Ts, wet, wet * 4186 * t, 0};
    l.heat = l.sensible + (wet * (2501000 + 1860 * (at->T - 273.15)) - l.water) / cp;
    return l;
}

static void add(local *sum, double w, const local *l)
{
    sum->sensible += w * l->sensible;
    sum->vapor += w * l->vapor;
    sum->water += w * l->water;
    sum->heat += w * l->heat;
}

/* From the tip in by the midpoint rule of Runge and Kutta, (1/r)(r T')' = -m^2 heat; *Tb the base,
 * *mean what fin and bare tube take per unit area. */
static void from_tip(const place *at, double tip, double *Tb, local *mean)
{
    double T = tip, F = 0, dr = (at->R - 1) / at->steps, area = 0;
    double fins = at->c->areas.Af / at->c->areas.Ao;
    local sum = {0};
    for (int i = 0; i < at->steps; i++) {
        double r = at->R - i * dr, mid = r - 0.5 * dr;
        local l = local_at(at, T);
        double T_mid = T + 0.5 * dr * F / r, F_mid = F - 0.5 * dr * at->mr2 * r * l.heat;
        l = local_at(at, T_mid);
        T += dr * F_mid / mid;
        F -= dr * at->mr2 * mid * l.heat;
        add(&sum, mid, &l);
        area += mid;
    }
    local base = local_at(at, T);
    *mean = (local){0};
    add(mean, fins / area, &sum);
    add(mean, 1 - fins, &base);
    *Tb = T;
}

/* Tip at which tubes take what the surface does, by secants; bisection would do as well. */
static double settle(place *at, local *mean)
{
    double x0 = at->tip, x1 = at->tip + 0.01, Tb, f0, f1, hA = at->h * at->c->Ao;
    from_tip(at, x0, &Tb, mean);
    f0 = at->UAi * (Tb - at->Tr) - hA * mean->heat;
    for (int i = 0; i < 100; i++) {
        from_tip(at, x1, &Tb, mean);
        f1 = at->UAi * (Tb - at->Tr) - hA * mean->heat;
        if (fabs(f1) < 1e-8 * hA || f1 == f0) break;
        double x = x1 - f1 * (x1 - x0) / (f1 - f0);
        x0 = x1;
        f0 = f1;
        x1 = fmin(fmax(x, at->Tr - 5), at->T);
    }
    at->tip = x1;
    return Tb;
}

typedef struct {
    double Q, Q_sens, T, W, h_w, Q_tube, superheat_area;
} strips;

/* One strip of share `da` of the area: the half step finds the state in the middle of the strip. */
static double strip(strips *s, place *at, double m_da, double da)
{
    double T = s->T, W = s->W, Tb = 0;
    local mean;
    for (int half = 1; half >= 0; half--) {
        at->T = T;
        at->W = W;
        Tb = settle(at, &mean);
        double x = at->h * at->c->Ao / (m_da * (1006 + 1860 * W)) * da * (half ? 0.5 : 1);
        T = s->T - x * mean.sensible;
        W = s->W - x * mean.vapor;
        if (!half) s->h_w += x * mean.water;
    }
    s->T = T;
    s->W = W;
    s->Q_tube += at->UAi * da * (Tb - at->Tr);
    return at->UAi * da * (Tb - at->Tr);
}

/* Superheated strips first, the vapor cooling from strip to strip on its way against the air. */
static strips by_strips(const ct_coil *c, const ct_coil_air *a, const ct_coil_tubes *t, int n,
                        int steps)
{
    strips s = {.T = a->in.T, .W = a->in.W};
    place at = {.p = a->in.p, .steps = steps, .tip = a->in.T - 2};
    double Tv = t->T_dew + fmax(0, t->superheat);
    fin_of(&at, c, a->film);
    for (int i = 0; i < n; i++) {
        double da = 1.0 / n;
        if (Tv > t->T_dew) {
            strips before = s;
            at.UAi = c->vapor_ratio * t->UAi;
            at.Tr = Tv;
            double q = strip(&s, &at, a->m_da, da), part = 1;
            for (int again = 0; again < 3; again++) { /* with the vapor of the middle */
                part = fmin(1, part * (Tv - t->T_dew) * t->C_r / q);
                at.Tr = Tv - 0.5 * fmin(q / t->C_r, Tv - t->T_dew);
                s = before;
                q = strip(&s, &at, a->m_da, part * da);
            }
            Tv -= q / t->C_r;
            if (Tv > t->T_dew + 1e-6) continue;
            Tv = t->T_dew;
            s.superheat_area = (i + part) / n;
            da *= 1 - part;
        }
        at.UAi = t->UAi;
        at.Tr = t->T_boil;
        strip(&s, &at, a->m_da, da);
    }
    s.Q = a->m_da * (h_air(a->in.T, a->in.W) - h_air(s.T, s.W) - s.h_w);
    s.Q_sens = a->m_da * (1006 + 1860 * s.W) * (a->in.T - s.T);
    return s;
}

static ct_coil_tubes boiling_only(double T, double UAi)
{
    return (ct_coil_tubes){.T_boil = T, .T_dew = T, .UAi = UAi};
}

static void boil(const ct_coil *c, const ct_coil_air *a, double T, double UAi, ct_coil_through *out)
{
    ct_coil_tubes t = boiling_only(T, UAi);
    ct_coil_run(c, a, &t, out);
}

typedef struct {
    double total, sensible, tube, suction, area;
} worst;

static void compare(const ct_coil *c, const ct_air *in, double m_da, const ct_coil_tubes *t, int n,
                    worst *w)
{
    ct_coil_air a;
    ct_coil_through b, warmer;
    ct_coil_tubes u = *t;
    assert_int_equal(ct_coil_at_air(c, in, m_da, &a, NULL), CT_OK);
    ct_coil_run(c, &a, t, &b);
    if (!(b.superheat_area < 1)) return;
    u.T_boil += 0.1;
    u.T_dew += 0.1;
    ct_coil_run(c, &a, &u, &warmer);
    strips s = by_strips(c, &a, t, n, n / 5);
    double Q_sens = m_da * (1006 + 1860 * b.out.W) * (in->T - b.out.T);
    w->total = fmax(w->total, fabs(b.Q / s.Q - 1));
    w->sensible = fmax(w->sensible, fabs(Q_sens / s.Q_sens - 1));
    w->tube = fmax(w->tube, fabs(s.Q_tube / s.Q - 1));
    w->suction = fmax(w->suction, fabs((b.Q - s.Q) / (b.Q - warmer.Q) * 0.1));
    w->area = fmax(w->area, fabs(b.superheat_area - s.superheat_area));
    check_rel("total", b.Q, s.Q, 0.003);
    check_rel("sensible", Q_sens, s.Q_sens, 0.005);
    check_is("moisture only leaves", b.out.W, <=, in->W * (1 + 1e-14));
    check_is("moisture only leaves", b.out.W, >, 0);
}

static void say(const char *name, const worst *w)
{
    print_message("%-10s worst against strips: total %.3f %%, sensible %.3f %%, suction %.3f K, "
                  "superheat area %.4f; strips' own closure %.3f %%\n",
                  name, 100 * w->total, 100 * w->sensible, w->suction, w->area, 100 * w->tube);
}

/* Over airs, airflows, tubes and ways to make the coil. The fin's 0.3 %, two collocation steps
 * and the water's temperature are what is left: 0.3 % in total, 0.5 % in sensible, and 0.1 K of
 * suction. */
static void against_strips(void **state)
{
    static const struct {
        const char *name;
        double air, tube; /* times the calibrated 3 ton coil */
    } coil[] = {{"3 ton", 1, 1},  {"small", 0.5, 0.6},   {"large", 2, 2},
                {"deep", 4, 1.5}, {"bare tube", 0.6, 5}, {"poor tube", 1.5, 0.4}};
    static const double cfm[] = {250, 400, 500}, T[] = {70, 75, 80, 85}, rh[] = {0.3, 0.5, 0.7},
                        Tr[] = {35, 45, 55};
    (void)state;
    for (size_t k = 0; k < sizeof coil / sizeof *coil; k++) {
        ct_coil c = three_ton.matched;
        worst w = {0};
        c.Ao *= coil[k].air;
        for (int i = 0; i < 3 * 4 * 3 * 3; i++) {
            ct_air in;
            double m = cfm[i % 3] * 3 * CT_M3S_PER_CFM * CT_STD_DENSITY;
            ct_coil_tubes t = boiling_only(K_(Tr[i / 36]), coil[k].tube * c.UAi_ref);
            if (i % 2) {
                t.superheat = 5.6;
                t.C_r = 62;
            }
            assert_int_equal(ct_air_from_rh(K_(T[i / 3 % 4]), rh[i / 12 % 3], CT_ATM_PA, &in, NULL),
                             CT_OK);
            compare(&c, &in, m, &t, 120, &w);
        }
        say(coil[k].name, &w);
        check_is("suction", w.suction, <, 0.1);
    }
}

/* The matched coil at the airflows and airs of a sweep, 400 strips. */
static void against_400_strips(void **state)
{
    const ct_coil *c = &three_ton.matched;
    worst w = {0};
    (void)state;
    for (int i = 0; i < 9; i++) {
        ct_air in = i % 3 ? air_at(i % 3 == 1 ? 80 : 75, i % 3 == 1 ? 67 : 61) : air_at(80, 72);
        ct_coil_tubes t = {K_(47), K_(47), c->UAi_ref, 62, 5.6};
        t.T_boil = t.T_dew += (i / 3 - 1) * 2;
        compare(c, &in, 0.68 * (0.7 + 0.25 * (i / 3)), &t, STRIPS, &w);
    }
    say("matched", &w);
    check_is("suction", w.suction, <, 0.1);
}

/* Depths far past any real coil, where an explicit integration with too few steps blows up. */
static void stiff(void **state)
{
    static const double deep[] = {6, 10, 20, 40};
    (void)state;
    for (int i = 0; i < 4; i++) {
        ct_coil c = three_ton.matched;
        worst w = {0};
        ct_air in = air_at(80, 72);
        ct_coil_air a;
        ct_coil_tubes t = boiling_only(K_(45), 3 * c.UAi_ref);
        c.Ao *= deep[i];
        assert_int_equal(ct_coil_at_air(&c, &in, 0.4, &a, NULL), CT_OK);
        compare(&c, &in, 0.4, &t, 1000, &w);
        print_message("NTU %.1f: total %.3f %%, sensible %.3f %%\n", a.UAo_dry / (0.4 * a.cp),
                      100 * w.total, 100 * w.sensible);
        check_that("stiff enough", i < 1 || a.UAo_dry / (0.4 * a.cp) > 8);
    }
}

/* ---- closed forms ---- */

/* Dry: one minus exp(-NTU) against a stream at one temperature (Kays & London). */
static void dry_closed_form(void **state)
{
    (void)state;
    for (double f = 0.5; f < 2.1; f *= 2) {
        const ct_coil *c = &three_ton.matched;
        ct_air in;
        ct_coil_air a;
        ct_coil_through b;
        assert_int_equal(ct_air_from_rh(K_(80), 0.15, CT_ATM_PA, &in, NULL), CT_OK);
        assert_int_equal(ct_coil_at_air(c, &in, f * 0.68, &a, NULL), CT_OK);
        boil(c, &a, K_(45), c->UAi_ref, &b);
        double UA = 1 / (1 / c->UAi_ref + 1 / a.UAo_dry), C = a.m_da * a.cp;
        check_rel("Q", b.Q, C * -expm1(-UA / C) * (in.T - K_(45)), 1e-12);
        check_abs("dry", b.dry_share, 1, 0);
        check_abs("no water", b.water, 0, 0);
        check_abs("W", b.out.W, in.W, 0);
    }
}

/* Share y of the potential left: y' = -UA/(m cp) y with the heat capacity cp = A + B y of the air
 * as it dries, hence A ln y + B (y - 1) = -UA/m. */
static double share_left(double UA_m, double W_surface, double W_in)
{
    double A = 1006 + 1860 * W_surface, B = 1860 * (W_in - W_surface), low = 1e-9, high = 1;
    for (int i = 0; i < 80; i++) {
        double y = 0.5 * (low + high);
        if (A * log(y) + B * (y - 1) + UA_m > 0)
            high = y;
        else
            low = y;
    }
    return high;
}

/* Fins of metal that conducts without loss: one surface temperature. */
static ct_coil lossless_fins(void)
{
    ct_coil c = three_ton.matched;
    c.geometry.fin_k = 1e7;
    return c;
}

/* No resistance in tubes and fins: the whole surface is at the tubes' temperature, temperature and
 * humidity fall towards it by the same exp(-NTU), and that surface is the apparatus dew point and
 * exp(-NTU) the bypass factor (ASHRAE Handbook, coil chapters). */
static void bypass(void **state)
{
    (void)state;
    for (double T = 40; T < 56; T += 5) {
        const ct_coil lossless = lossless_fins(), *c = &lossless;
        ct_air in = air_at(80, 67);
        ct_coil_air a;
        ct_coil_through b;
        double adp, bf;
        assert_int_equal(ct_coil_at_air(c, &in, 0.68, &a, NULL), CT_OK);
        boil(c, &a, K_(T), 1e12, &b);
        double left = share_left(a.hA / a.m_da, W_sat(K_(T), in.p), in.W);
        check_abs("T", b.out.T, K_(T) + left * (in.T - K_(T)), 8e-3);
        check_abs("W", b.out.W, W_sat(K_(T), in.p) + left * (in.W - W_sat(K_(T), in.p)), 2e-6);
        assert_int_equal(ct_air_adp(&in, &b.out, &adp, &bf, NULL), CT_OK);
        /* Straight in T and W here, in h and W there: the product W T bends the line by up to
         * 240 J/kg times what is left, and it meets saturation at a small angle. */
        check_abs("apparatus dew point", adp, K_(T), 0.7 * left);
        check_abs("bypass factor", bf, left, 0.04 * left);
    }
}

/* Braun, Klein & Mitchell 1989: with a straight saturation line of slope cs, enthalpy falls by
 * 1 - exp(-NTU*), 1/UA* = cs/UAi + cp/UAo. Saturated air a tenth of a kelvin above the tubes sees
 * such a line. The paper leaves the water's enthalpy out; counting enthalpy from liquid at the
 * tubes' temperature makes that exact, and H_in - H_tube then is the heat of the tubes. 0.05 %: cs
 * bends by 3 % per kelvin. */
static void braun_klein_mitchell(void **state)
{
    (void)state;
    for (double Tr = 40; Tr < 61; Tr += 10) {
        const ct_coil lossless = lossless_fins(), *c = &lossless;
        ct_air in;
        ct_coil_air a;
        ct_coil_through b;
        assert_int_equal(ct_air_from_rh(K_(Tr) + 0.1, 1, CT_ATM_PA, &in, NULL), CT_OK);
        assert_int_equal(ct_coil_at_air(c, &in, 0.68, &a, NULL), CT_OK);
        boil(c, &a, K_(Tr), c->UAi_ref, &b);
        double Ws = W_sat(K_(Tr), in.p);
        double dH = a.h_in - h_air(K_(Tr), Ws) - (in.W - Ws) * 4186 * (K_(Tr) - 273.15);
        double cs = dH / 0.1;
        double UA = 1 / (cs / c->UAi_ref + a.cp / a.hA);
        double want = a.m_da * -expm1(-UA / a.m_da) * dH;
        print_message("linear saturation at %.0f F: %+.3f %%\n", Tr, 100 * (b.Q / want - 1));
        check_rel("heat", b.Q, want, 5e-4);
    }
}

/* ---- dry meets wet ---- */

/* Entering humidity in steps of a millionth: what leaves may not move by more than the step can
 * carry. A jump of 1e-6 of the heat would show. The second rows cross freezing dew points. */
static void no_step(void **state)
{
    static const struct {
        const char *name;
        double T, Tr, W0, W1, dW, superheat;
    } row[] = {{"comfort", 80, 45, 0.004, 0.016, 1e-6, 0},
               {"fine", 80, 45, 0.0068, 0.0082, 5e-8, 0},
               {"frost", 60, 15, 0.0015, 0.0065, 5e-7, 0},
               {"near dry bulb", 70, 40, 0.014, 0.0157, 5e-7, 0},
               {"superheat", 80, 45, 0.006, 0.021, 1e-6, 5.6}};
    int vapor_wet = 0, vapor_dry = 0;
    (void)state;
    for (size_t k = 0; k < sizeof row / sizeof *row; k++) {
        const ct_coil *c = &three_ton.matched;
        ct_coil_through last = {0};
        double seen_dry = 0, seen_part = 0, seen_wet = 0;
        for (double W = row[k].W0; W < row[k].W1; W += row[k].dW) {
            ct_air in = {K_(row[k].T), W, CT_ATM_PA};
            ct_coil_air a;
            ct_coil_through b;
            assert_int_equal(ct_coil_at_air(c, &in, 0.68, &a, NULL), CT_OK);
            ct_coil_tubes tubes = boiling_only(K_(row[k].Tr), c->UAi_ref);
            tubes.superheat = row[k].superheat;
            tubes.C_r = 62;
            ct_coil_run(c, &a, &tubes, &b);
            vapor_wet |= b.vapor_wet;
            vapor_dry |= row[k].superheat > 0 && !b.vapor_wet;
            if (b.dry_share >= 1)
                seen_dry++;
            else if (b.dry_share > 0)
                seen_part++;
            else
                seen_wet++;
            if (W > row[k].W0) {
                double dW = row[k].dW, carry = 2.6e6 * dW;
                check_abs(row[k].name, b.Q, last.Q, a.m_da * carry);
                check_abs(row[k].name, b.out.T, last.out.T, carry / 1006);
                check_abs(row[k].name, b.out.W, last.out.W, 1.05 * dW);
                check_abs(row[k].name, b.Ts_out, last.Ts_out, carry / 1006);
            }
            last = b;
        }
        print_message("%s: %g dry, %g partly, %g wet\n", row[k].name, seen_dry, seen_part,
                      seen_wet);
        if (k < 2) check_that(row[k].name, seen_dry > 0 && seen_part > 0);
        if (k == 0) check_that(row[k].name, seen_wet > 0);
    }
    check_that("superheated tubes dry and wet", vapor_wet);
    check_that("superheated tubes dry and wet", vapor_dry);
}

/* ---- superheating tubes ---- */

/* Element by element against the air until the vapor is back at its dew point, dry. */
static void superheat_area(void **state)
{
    static const struct {
        double T, Tr, superheat, C_r, m;
    } row[] = {{80, 45, 5.6, 60, 0.68},
               {75, 40, 2, 55, 0.5},
               {80, 47, 11, 70, 0.8},
               {70, 50, 10.5, 40, 0.4}};
    (void)state;
    for (size_t k = 0; k < sizeof row / sizeof *row; k++) {
        const ct_coil *c = &three_ton.matched;
        ct_air in;
        ct_coil_air a;
        ct_coil_through b;
        ct_coil_tubes t = boiling_only(K_(row[k].Tr), c->UAi_ref);
        assert_int_equal(ct_air_from_rh(K_(row[k].T), 0.2, CT_ATM_PA, &in, NULL), CT_OK);
        t.superheat = row[k].superheat;
        t.C_r = row[k].C_r;
        assert_int_equal(ct_coil_at_air(c, &in, row[k].m, &a, NULL), CT_OK);
        ct_coil_run(c, &a, &t, &b);
        double U = 1 / (1 / a.UAo_dry + 1 / (c->vapor_ratio * c->UAi_ref));
        double Ta = in.T, Tv = t.T_dew + t.superheat, da = b.superheat_area / 20000;
        for (int i = 0; i < 20000; i++) {
            double q = U * da * (Ta - Tv);
            q = U * da * (Ta - Tv - 0.5 * q * (1 / (a.m_da * a.cp) - 1 / t.C_r));
            Ta -= q / (a.m_da * a.cp);
            Tv -= q / t.C_r;
        }
        check_abs("vapor back at its dew point", Tv, t.T_dew, 1e-6);
        check_abs("air that boils", b.T_at_boil, Ta, 1e-6);
    }
    ct_coil_air a;
    ct_coil_through b;
    ct_air in = air_at(80, 67);
    ct_coil_tubes t = boiling_only(K_(75), 1000);
    const ct_coil *c = &three_ton.matched;
    assert_int_equal(ct_coil_at_air(c, &in, 0.68, &a, NULL), CT_OK);
    ct_coil_run(c, &a, &t, &b);
    check_abs("none", b.superheat_area, 0, 0);
    t.superheat = 5;
    t.C_r = 60;
    ct_coil_run(c, &a, &t, &b);
    check_that("warmer than the air", isinf(b.superheat_area));
}

/* ---- bookkeeping ---- */

/* Heat and water in equals heat and water out, with and without fog; fog ends at saturation. */
static void conserves(void **state)
{
    int fogs = 0, clear = 0, vapor_wet = 0;
    uint64_t seed = 7;
    (void)state;
    for (int i = 0; i < 3000; i++) {
        const ct_coil *c = &three_ton.matched;
        ct_air in;
        ct_coil_air a;
        ct_coil_through b;
        ct_coil_total t;
        ct_coil_tubes tubes =
            boiling_only(K_(between(&seed, 10, 60)), c->UAi_ref * between(&seed, 0.3, 3));
        tubes.superheat = between(&seed, -2, 12);
        tubes.C_r = between(&seed, 20, 90);
        assert_int_equal(ct_air_from_rh(K_(between(&seed, 60, 95)), between(&seed, 0.2, 1),
                                        between(&seed, 8e4, 1.02e5), &in, NULL),
                         CT_OK);
        assert_int_equal(ct_coil_at_air(c, &in, between(&seed, 0.3, 1.2), &a, NULL), CT_OK);
        ct_coil_run(c, &a, &tubes, &b);
        if (!(b.superheat_area < 1)) continue;
        ct_coil_leave(&a, &b, &t);
        vapor_wet += b.vapor_wet;
        check_rel("boiling and superheat", t.Q, b.Q_boil + tubes.C_r * fmax(0, tubes.superheat),
                  1e-11);
        check_is("boiling tubes take heat", b.Q_boil, >, 0);
        check_rel("water", t.water, a.m_da * (in.W - t.out.W), 1e-12);
        check_rel("energy", a.m_da * (a.h_in - h_air(t.out.T, t.out.W)), t.Q + t.h_water, 1e-11);
        check_is("W positive, not above entering", t.out.W, >, 0);
        check_is("W positive, not above entering", t.out.W, <=, in.W * (1 + 1e-14));
        check_is("not past saturation", t.out.W, <=, ct_air_W_sat(t.out.T, in.p) * (1 + 1e-12));
        fogs += t.fogged;
        clear += !t.fogged;
    }
    print_message("outlets: %d fogged, %d clear; superheated tubes wet %d\n", fogs, clear,
                  vapor_wet);
    check_is("both kinds met", clear, >, 50);
    check_is("both kinds met", vapor_wet, >, 50);
}

/* Warmer tubes, more air, drier air: which way things go, and nothing at or above the air. */
static void ways(void **state)
{
    const ct_coil *c = &three_ton.matched;
    ct_air in = air_at(80, 67);
    ct_coil_air a;
    ct_coil_through b, last = {.Q = INFINITY};
    (void)state;
    assert_int_equal(ct_coil_at_air(c, &in, 0.68, &a, NULL), CT_OK);
    for (double T = 30; T <= 80; T += 0.5) {
        boil(c, &a, K_(T), c->UAi_ref, &b);
        check_is("warmer tubes take less", b.Q, <, last.Q);
        check_is("surface between tube and air", b.Ts_out, >=, K_(T));
        check_is("surface between tube and air", b.Ts_in, <=, in.T);
        check_is("coldest at the outlet", b.Ts_out, <=, b.Ts_in + 1e-9);
        last = b;
    }
    boil(c, &a, in.T + 5, c->UAi_ref, &b);
    check_abs("no heat from warm tubes", b.Q, 0, 0);
}

/* The boundary between dry and wet lies where the surface's own saturation, over liquid, is the
 * air's humidity: also below freezing, where a dew point proper is a frost point. */
static void dew_point_of_the_surface(void **state)
{
    (void)state;
    for (double rh = 0.1; rh < 1; rh += 0.1) {
        ct_air in;
        ct_coil_air a;
        assert_int_equal(ct_air_from_rh(K_(55), rh, CT_ATM_PA, &in, NULL), CT_OK);
        assert_int_equal(ct_coil_at_air(&three_ton.matched, &in, 0.68, &a, NULL), CT_OK);
        check_rel("saturated", W_sat(a.T_dp, in.p), in.W, 1e-9);
        worst w = {0};
        ct_coil_tubes t = boiling_only(K_(20), three_ton.matched.UAi_ref);
        compare(&three_ton.matched, &in, 0.68, &t, 120, &w);
    }
}

static void refuses(void **state)
{
    static const struct {
        const char *name;
        double T, W, m;
        const char *word;
    } row[] = {
        {"too hot", 340, 0.01, 0.5, "entering the coil"},
        {"NaN air", NAN, 0.01, 0.5, "entering the coil"},
        {"no air", 300, 0.01, 0, "air flow"},
        {"endless air", 300, 0.01, INFINITY, "air flow"},
        {"NaN flow", 300, 0.01, NAN, "air flow"},
        {"no moisture at all", 300, 0, 0.5, "dew point"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        ct_air in = {row[i].T, row[i].W, CT_ATM_PA};
        ct_coil_air a = {.film = -7};
        ct_fault fault = {0};
        check_is(row[i].name, ct_coil_at_air(&three_ton.matched, &in, row[i].m, &a, &fault), ==,
                 CT_RANGE);
        check_has(row[i].name, fault.what, row[i].word);
        check_abs("untouched", a.film, -7, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(against_strips),
                                       cmocka_unit_test(against_400_strips),
                                       cmocka_unit_test(stiff),
                                       cmocka_unit_test(dry_closed_form),
                                       cmocka_unit_test(bypass),
                                       cmocka_unit_test(braun_klein_mitchell),
                                       cmocka_unit_test(no_step),
                                       cmocka_unit_test(superheat_area),
                                       cmocka_unit_test(conserves),
                                       cmocka_unit_test(ways),
                                       cmocka_unit_test(dew_point_of_the_surface),
                                       cmocka_unit_test(refuses)};
    return cmocka_run_group_tests(tests, make, drop);
}
