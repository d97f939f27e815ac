/* Geometry by hand, against Carver's criterion, the calculus books' ladder, and brute force: moving
 * the box about on a grid until it is through or nothing more can be reached. */
#include "check.h"

#include "study/fit.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(a) (sizeof(a) / sizeof(a)[0])
#define DEG (3.14159265358979323846 / 180.0)
#define R2 1.41421356237309505

/* ---- one box, one opening, worked by hand ---- */

static ct_opening door(double width, double height)
{
    return (ct_opening){.kind = CT_OPEN_DOOR, .width = width, .height = height};
}

static ct_opening hatch(double width, double length, double headroom, double frame)
{
    return (ct_opening){.kind = CT_OPEN_HATCH,
                        .width = width,
                        .length = length,
                        .headroom = headroom,
                        .frame = frame};
}

static ct_opening corner(double before, double after, double ceiling)
{
    return (ct_opening){
        .kind = CT_OPEN_CORNER, .width = before, .width_after = after, .height = ceiling};
}

typedef struct {
    const char *name;
    double box[3];
    ct_opening o;
    bool fits;
    ct_way way;
    double angle; /* rad; NAN: not asked */
    double margin;
    double tol;
} passage_row;

/* Tolerance: 1e-9 m where the answer is arithmetic, 1e-7 m where an angle is searched. */
static void test_passages(void **state)
{
    (void)state;
    const passage_row rows[] = {
        {"square, room on the short side",
         {0.5, 0.5, 1.2},
         door(0.8, 2.0),
         true,
         CT_WAY_SQUARE,
         0,
         0.3,
         1e-9},
        /* 1.0 x 0.1 at 45 degrees spans 1.1/sqrt 2 both ways. */
        {"only rolled by 45 degrees",
         {1.0, 0.1, 1.2},
         door(0.8, 0.8),
         true,
         CT_WAY_ROLLED,
         45 * DEG,
         0.8 - 1.1 / R2,
         1e-9},
        {"one mm too wide whichever way",
         {0.561, 0.561, 1.2},
         door(0.56, 2.0),
         false,
         CT_WAY_SQUARE,
         0,
         -0.001,
         1e-9},
        {"one mm to spare",
         {0.561, 0.561, 1.2},
         door(0.562, 2.0),
         true,
         CT_WAY_SQUARE,
         0,
         0.001,
         1e-9},
        {"exactly 24 inches",
         {24 * 0.0254, 24 * 0.0254, 1.0},
         door(0.6096, 1.9),
         true,
         CT_WAY_SQUARE,
         0,
         0.0,
         1e-9},
        /* Headroom 0.8 < 1.5. Lean: it slides to acos(0.5/1) = 60 degrees, when its foot comes to
         * the edge 1.5 cos 60 = 0.75 is above; after that it only sinks. */
        {"hatch, only leaning",
         {0.5, 0.6, 1.5},
         hatch(1.0, 0.7, 0.8, 0),
         true,
         CT_WAY_TIPPED,
         60 * DEG,
         0.05,
         1e-7},
        /* 0.6 in 0.7, 0.5 in 0.65, 1.5 under 1.6. */
        {"hatch, straight up",
         {0.5, 0.6, 1.5},
         hatch(0.7, 0.65, 1.6, 0),
         true,
         CT_WAY_SQUARE,
         0,
         0.1,
         1e-9},
        /* The long edge flat: 0.5 leads, 1.0 x 0.1 at 45 degrees through a square hatch. */
        {"hatch, rolled",
         {1.0, 0.1, 0.9},
         hatch(0.8, 0.8, 1.0, 0.3),
         true,
         CT_WAY_ROLLED,
         45 * DEG,
         0.8 - 1.1 / R2,
         1e-9},
        /* Upright 1.6 > 1.5. On its side: 1.6 long lets sqrt 2 - 0.8 swing round, 0.4 is across. */
        {"corner, swung level",
         {1.6, 0.5, 0.4},
         corner(1, 1, 1.5),
         true,
         CT_WAY_SQUARE,
         0,
         R2 - 0.8 - 0.4,
         1e-7},
        /* Upright nothing is long: 0.4 is across in both corridors. */
        {"corner, upright", {1.6, 0.5, 0.4}, corner(1, 1, 2.4), true, CT_WAY_SQUARE, 0, 0.6, 1e-9},
        /* A square plan of 0.9 in corridors of 1 swings only to sqrt 2 - 0.45 = 0.964, and passes
         * better not turned at all: 0.1. */
        {"corner, sidestep", {0.9, 0.9, 1.9}, corner(1, 1, 2.4), true, CT_WAY_SQUARE, 0, 0.1, 1e-9},
        /* At 45 degrees 2.0 x 0.45 is 2.45/sqrt 2 long and as tall; the ceiling is chosen so that
         * both slacks are sqrt 2 - 2.45/(2 sqrt 2) - 0.45. Level lets 0.414 swing, less than 0.45.
         */
        {"corner, only tipped",
         {2.0, 0.45, 0.45},
         corner(1, 1, 2.45 / R2 + R2 - 2.45 / R2 / 2 - 0.45),
         true,
         CT_WAY_TIPPED,
         45 * DEG,
         R2 - 2.45 / R2 / 2 - 0.45,
         1e-7},
        {"corner, too long", {3.0, 0.7, 0.7}, corner(1, 1, 1.2), false, CT_WAY_SQUARE, NAN, NAN, 0},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        const passage_row *r = &rows[i];
        ct_passage got;
        check_is(r->name, ct_fit_passage(r->box, &r->o, &got, NULL), ==, CT_OK);
        check_is(r->name, got.fits, ==, r->fits);
        if (isnan(r->margin)) {
            check_is(r->name, got.margin, <, 0);
            continue;
        }
        check_abs(r->name, got.margin, r->margin, r->tol);
        check_is(r->name, got.way, ==, r->way);
        if (!isnan(r->angle) && got.way != CT_WAY_SQUARE)
            check_abs(r->name, got.angle, r->angle, 1e-5);
        check_is(r->name, got.lead + got.across + got.up, ==, 3);
        check_is(r->name, got.lead, !=, got.across);
        if (strstr(r->name, "sidestep")) check_that(r->name, got.sidestep);
        if (strstr(r->name, "swung")) check_that(r->name, !got.sidestep);
    }
}

static void test_run_behind_door(void **state)
{
    (void)state;
    ct_opening o = door(0.6, 2.0);
    o.run = (ct_maybe){true, 1.0};
    const double box[3] = {0.5, 0.7, 1.4};
    ct_passage got;
    /* Lengthwise 1.4 lacks 0.4 of run; sideways 0.7 leads, 0.5 x 1.4 in 0.6 x 2.0. */
    check_is("run", ct_fit_passage(box, &o, &got, NULL), ==, CT_OK);
    check_abs("run", got.margin, 0.1, 1e-12);
    check_is("run", got.lead, ==, CT_EDGE_DEPTH);
    check_is("run", got.across, ==, CT_EDGE_WIDTH);
}

/* ---- rectangle through rectangle: Carver, closed-form slack and brute force must agree ---- */

static double noise(unsigned *seed)
{
    *seed = *seed * 1664525u + 1013904223u;
    return (double)(*seed >> 8) / 16777216.0;
}

/* The largest of the smaller slack over 9001 angles: no theory in it. */
static double brute_slack(double p, double q, double a, double b)
{
    double best = -HUGE_VAL;
    for (int i = 0; i <= 9000; i++) {
        double t = 0.01 * i * DEG;
        double s = fmin(a - p * cos(t) - q * sin(t), b - p * sin(t) - q * cos(t));
        best = fmax(best, s);
    }
    return best;
}

/* Does p x q pass a x b? Carver 1957, Solution to Problem E 1225, Amer. Math. Monthly 64: with
 * p >= q, a >= b it passes when p <= a and q <= b, or p > a, q <= b and
 * b >= (2 p q a + (p^2 - q^2) sqrt(p^2 + q^2 - a^2)) / (p^2 + q^2). */
static bool carver(double p, double q, double a, double b)
{
    double P = fmax(p, q), Q = fmin(p, q), A = fmax(a, b), B = fmin(a, b);
    if (Q > B) return false;
    if (P <= A) return true;
    double d2 = P * P + Q * Q;
    return B * d2 >= 2.0 * P * Q * A + (P * P - Q * Q) * sqrt(d2 - A * A);
}

static void test_carver(void **state)
{
    (void)state;
    unsigned seed = 7;
    int rolled = 0, through = 0;
    for (int i = 0; i < 400; i++) {
        double a = 0.4 + noise(&seed), b = 0.4 + noise(&seed);
        double p = 0.3 + 1.2 * noise(&seed), q = 0.05 + 0.5 * noise(&seed), angle;
        double brute = brute_slack(p, q, a, b), slack = ct_fit_rectangle_margin(p, q, a, b, &angle);
        /* A hundredth of a degree moves an edge of 1.5 m by 0.26 mm at the most. */
        check_is("exact is not under the search", slack, >=, brute - 1e-12);
        check_abs("slack", slack, brute, 3e-4);
        bool yes = carver(p, q, a, b);
        if (fabs(slack) > 1e-12) check_is("Carver 1957", yes, ==, (slack > 0));
        through += yes;
        rolled += yes && angle > 0 && angle < 90 * DEG && fmin(a - p, b - q) < 0 &&
                  fmin(a - q, b - p) < 0;
    }
    check_is("both answers and the rolled case were met", through, >, 40);
    check_is("both answers and the rolled case were met", through, <, 360);
    check_is("both answers and the rolled case were met", rolled, >=, 10);
}

/* ---- corner ---- */

/* Calculus books (for example Stewart, Calculus, applied optimization; from memory): the longest
 * ladder carried level round a corner is (a^(2/3) + b^(2/3))^(3/2). */
static void test_ladder(void **state)
{
    (void)state;
    const double rows[][2] = {{1, 1}, {8, 27}, {0.9, 1.3}, {2.0, 0.7}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        double a = rows[i][0], b = rows[i][1];
        double l = pow(cbrt(a * a) + cbrt(b * b), 1.5);
        check_abs("ladder", ct_fit_corner_width(l, a, b), 0.0, 1e-12 * l);
        check_is("longer ladder", ct_fit_corner_width(1.001 * l, a, b), <, 0);
        check_is("shorter ladder", ct_fit_corner_width(0.999 * l, a, b), >, 0);
    }
    check_abs("8 and 27: 13 sqrt 13", ct_fit_corner_width(13 * sqrt(13), 8, 27), 0, 1e-10);
}

/* Corridors of 1: the symmetric position needs sqrt 2 - l/2; the largest rectangle that swings has
 * sides sqrt 2 and sqrt 2 / 2, area 1. No shape at all passes with more than 2.37 (upper bound of
 * Kallus & Romik 2018), and Gerver's sofa of 1992, believed best, has 2.2195. */
static void test_sofa(void **state)
{
    (void)state;
    double largest = 0;
    for (int i = 1; i < 280; i++) {
        double l = 0.01 * i, w = ct_fit_corner_width(l, 1, 1);
        check_abs("widest", w, fmin(1, R2 - l / 2), 1e-12);
        largest = fmax(largest, l * w);
    }
    check_abs("area", largest, 1.0, 1e-4); /* l in steps of 0.01: area falls as its square / 2 */
    check_is("under Gerver's", largest, <, 2.2195);
    check_abs("at the best", ct_fit_corner_width(R2, 1, 1), R2 / 2, 1e-12);
}

/* ---- brute force: walk a grid of positions and leans ---- */

typedef struct {
    double x[4], y[4];
} quad;

static quad rectangle(double x, double y, double turn, double l, double w)
{
    const double u[4] = {-0.5, 0.5, 0.5, -0.5}, v[4] = {-0.5, -0.5, 0.5, 0.5};
    quad q;
    for (int i = 0; i < 4; i++) {
        q.x[i] = x + u[i] * l * cos(turn) - v[i] * w * sin(turn);
        q.y[i] = y + u[i] * l * sin(turn) + v[i] * w * cos(turn);
    }
    return q;
}

/* Least and largest x of the part of the quad between two levels; false when there is none. */
static bool span(const double *x, const double *y, double low, double high, double *least,
                 double *most)
{
    *least = HUGE_VAL;
    *most = -HUGE_VAL;
    for (int i = 0; i < 4; i++) {
        int j = (i + 1) % 4;
        double t[4] = {0, 1, (low - y[i]) / (y[j] - y[i]), (high - y[i]) / (y[j] - y[i])};
        for (int k = 0; k < 4; k++) {
            if (!(t[k] >= 0 && t[k] <= 1)) continue;
            double at = x[i] + t[k] * (x[j] - x[i]), level = y[i] + t[k] * (y[j] - y[i]);
            if (level < low - 1e-12 || level > high + 1e-12) continue;
            *least = fmin(*least, at);
            *most = fmax(*most, at);
        }
    }
    return *most >= *least;
}

static double least4(const double *v)
{
    return fmin(fmin(v[0], v[1]), fmin(v[2], v[3]));
}

static double most4(const double *v)
{
    return fmax(fmax(v[0], v[1]), fmax(v[2], v[3]));
}

typedef struct {
    bool is_hatch;
    double l, w; /* the rectangle */
    double a, b; /* corridors; hatch: its side and the roof */
    double frame;
    double step, turn; /* grid */
    double x0, y0, turn0;
    int nx, ny, nt;
} maze;

/* L: the corridor x 0..a upwards and y 0..b to the right. Hatch: slab -frame < y < 0 with the gap
 * 0 < x < a, under a roof at b. */
static bool is_free(const maze *m, const quad *q)
{
    double least, most;
    if (m->is_hatch) {
        if (most4(q->y) > m->b) return false;
        if (!span(q->x, q->y, -m->frame, 0, &least, &most)) return true;
        return least >= 0 && most <= m->a;
    }
    if (least4(q->x) < 0 || least4(q->y) < 0) return false;
    if (!span(q->y, q->x, m->a, HUGE_VAL, &least, &most)) return true;
    return least <= m->b && most <= m->b;
}

static bool is_out(const maze *m, const quad *q)
{
    return m->is_hatch ? least4(q->y) >= 0 : least4(q->x) >= m->a;
}

static quad at_cell(const maze *m, int cell)
{
    int t = cell % m->nt, y = cell / m->nt % m->ny, x = cell / m->nt / m->ny;
    return rectangle(m->x0 + x * m->step, m->y0 + y * m->step, m->turn0 + t * m->turn, m->l, m->w);
}

static void visit(const maze *m, int x, int y, int t, char *seen, int *stack, int *top)
{
    if (x < 0 || y < 0 || t < 0 || x >= m->nx || y >= m->ny || t >= m->nt) return;
    int cell = (x * m->ny + y) * m->nt + t;
    if (seen[cell]) return;
    seen[cell] = 1;
    quad q = at_cell(m, cell);
    if (is_free(m, &q)) stack[(*top)++] = cell;
}

static bool walk(const maze *m, int x, int y, int t)
{
    size_t n = (size_t)m->nx * (size_t)m->ny * (size_t)m->nt;
    char *seen = calloc(n, 1);
    int *stack = malloc(n * sizeof *stack), top = 0;
    assert_non_null(seen);
    assert_non_null(stack);
    visit(m, x, y, t, seen, stack, &top);
    check_is("the start is free", top, ==, 1);
    bool out = false;
    while (top && !out) {
        int cell = stack[--top];
        quad q = at_cell(m, cell);
        out = is_out(m, &q);
        t = cell % m->nt;
        y = cell / m->nt % m->ny;
        x = cell / m->nt / m->ny;
        for (int s = -1; s <= 1; s += 2) {
            visit(m, x + s, y, t, seen, stack, &top);
            visit(m, x, y + s, t, seen, stack, &top);
            visit(m, x, y, t + s, seen, stack, &top);
        }
    }
    free(seen);
    free(stack);
    return out;
}

/* Starts upright in the corridor, ends wholly in the other, turning either way. */
static bool walks_corner(double l, double w, double a, double b)
{
    maze m = {.l = l, .w = w, .a = a, .b = b, .step = 0.025, .turn = 3 * DEG};
    m.nx = (int)((a + l + 0.2) / m.step);
    m.ny = (int)((b + l + 0.2) / m.step);
    m.nt = 61;
    int start = (int)((b + l / 2 + 0.05) / m.step);
    return walk(&m, (int)(a / 2 / m.step), start, 30);
}

/* The grid's step is 25 mm and half the box moves 26 mm by 3 degrees, so it can miss a passage with
 * less room than that about; 60 mm either side of ours it must say what we say. Only the swing is
 * compared: the boxes are longer than either corridor is wide. */
static void test_corner_by_walking(void **state)
{
    (void)state;
    const double rows[][3] = {{1.4, 1.0, 1.0}, {1.6, 0.9, 1.2}, {1.3, 1.2, 0.8}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        double l = rows[i][0], a = rows[i][1], b = rows[i][2];
        double widest = ct_fit_corner_width(l, a, b);
        check_that("narrower walks round", walks_corner(l, widest - 0.06, a, b));
        check_that("wider does not", !walks_corner(l, widest + 0.06, a, b));
    }
}

static bool walks_hatch(double l, double t, double a, double frame, double roof)
{
    maze m = {.is_hatch = true, .l = l, .w = t, .a = a, .b = roof, .frame = frame};
    m.step = 0.025;
    m.turn = 3 * DEG;
    m.x0 = -l;
    m.y0 = -frame - l / 2 - 0.05;
    m.turn0 = 0;
    m.nx = (int)((a + 2 * l) / m.step);
    m.ny = (int)((roof - m.y0) / m.step);
    m.nt = 61;
    return walk(&m, (int)((a / 2 + l) / m.step), 0, 30);
}

/* The grid as above; the box also slides with no room at all at its steepest lean, so the walk that
 * must succeed is given a hatch 60 mm wider besides the roof 60 mm higher. */
static void test_hatch_by_walking(void **state)
{
    (void)state;
    const double rows[][4] = {{1.5, 0.5, 1.0, 0.0}, {1.2, 0.5, 0.75, 0.2}, {1.4, 0.55, 0.7, 0.05}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        const double *r = rows[i];
        double lean, roof = ct_fit_hatch_headroom(r[0], r[1], r[2], r[3], &lean);
        check_is("leaning helps", roof, <, r[0]);
        check_is("leaning helps", lean, >, 0);
        check_that("a higher roof lets it in",
                   walks_hatch(r[0], r[1], r[2] + 0.06, r[3], roof + 0.06));
        check_that("a lower roof does not", !walks_hatch(r[0], r[1], r[2], r[3], roof - 0.06));
    }
}

static void test_hatch_limits(void **state)
{
    (void)state;
    double lean;
    /* Just as thick as the hatch it cannot lean until its foot is out: full length. */
    check_abs("snug", ct_fit_hatch_headroom(1.5, 0.6, 0.6, 0, &lean), 1.5, 1e-9);
    /* Framed: it slides to t + frame sin = a cos, where its foot is `frame` below the edge; a box
     * as long as this then only sinks (the slope there is -0.34 m/rad, by hand). */
    double slides = acos(0.5 / hypot(1.0, 0.2)) - atan(0.2);
    check_abs("framed", ct_fit_hatch_headroom(2.0, 0.5, 1.0, 0.2, &lean), 2.0 * cos(slides) - 0.2,
              1e-9);
    check_abs("framed", lean, slides, 1e-9);
    double before = 0;
    for (int i = 0; i <= 20; i++) {
        double roof = ct_fit_hatch_headroom(1.5, 0.5, 0.8, 0.02 * i, &lean);
        check_is("a deeper frame never needs less roof", roof, >=, before - 1e-9);
        before = roof;
    }
}

/* ---- the whole question ---- */

static ct_cabinet cabinet(double w, double d, double h)
{
    return (ct_cabinet){.has = true, .width = w, .depth = d, .height = h, .sections = 1};
}

static ct_fit_report ask(const ct_cabinet *c, const ct_opening *o, int n, const ct_space *s)
{
    ct_fit_report r;
    check_is("asked", ct_fit(c, o, n, s, &r, NULL), ==, CT_OK);
    return r;
}

static void test_sections(void **state)
{
    (void)state;
    ct_cabinet c = cabinet(0.6, 0.6, 1.5);
    const ct_opening way[] = {door(0.8, 2.0), hatch(0.62, 0.62, 0.8, 0)};
    const ct_space nowhere = {0};
    ct_fit_report r = ask(&c, way, 2, &nowhere);
    check_is("whole: no", r.verdict, ==, CT_FIT_NO);
    check_is("whole: no", r.tightest, ==, 1);
    check_is("whole: no", r.margin, <, 0);
    c.sections = 2;
    c.section_height = 0.75;
    r = ask(&c, way, 2, &nowhere);
    /* 0.6 in 0.62 leaves 20 mm, 0.75 under 0.8 leaves 50. */
    check_is("two sections", r.verdict, ==, CT_FIT_SECTIONS);
    check_is("two sections", r.tightest, ==, 1);
    check_abs("two sections", r.margin, 0.02, 1e-12);
    /* 1 mm over the headroom it still goes in, leaning: to acos(0.6/0.62), 14.6 degrees, it slides,
     * and 0.801 x 0.6/0.62 = 0.775 stands over the edge. */
    c.section_height = 0.801;
    r = ask(&c, way, 2, &nowhere);
    check_is("leaning section", r.verdict, ==, CT_FIT_SECTIONS);
    check_is("leaning section", r.piece[1].way, ==, CT_WAY_TIPPED);
    check_abs("leaning section", r.margin, 0.02, 1e-12);
    c.section_height = 0.9; /* 0.9 x 0.6/0.62 = 0.871, over the headroom by 0.071 */
    r = ask(&c, way, 2, &nowhere);
    check_is("section too long", r.verdict, ==, CT_FIT_NO);
    check_abs("section too long", r.margin, 0.8 - 0.9 * 0.6 / 0.62, 1e-9);
    r = ask(&c, way, 1, &nowhere);
    check_is("door alone needs no parting", r.verdict, ==, CT_FIT_SQUARE);
    check_abs("door alone", r.margin, 0.2, 1e-12);
}

static void test_tilted_verdict(void **state)
{
    (void)state;
    const ct_cabinet c = cabinet(1.0, 0.1, 1.2);
    const ct_opening way[] = {door(0.8, 2.0), door(0.8, 0.8)};
    const ct_space nowhere = {0};
    ct_fit_report r = ask(&c, way, 2, &nowhere);
    check_is("tilted", r.verdict, ==, CT_FIT_TILTED);
    check_is("tilted", r.tightest, ==, 1);
    check_is("first door square", r.whole[0].way, ==, CT_WAY_SQUARE);
}

static void test_space(void **state)
{
    (void)state;
    ct_cabinet c = cabinet(0.53, 0.56, 1.2);
    ct_space s = {.has = true,
                  .width = 0.75,
                  .depth = 1.3,
                  .height = 2.1,
                  .front = 0.6,
                  .back = 0.02,
                  .left = 0.05,
                  .right = 0.1,
                  .above = 0.4,
                  .below = 0.3};
    ct_fit_report r = ask(&c, NULL, 0, &s);
    check_is("closet", r.verdict, ==, CT_FIT_SQUARE);
    check_that("closet", r.place.upright);
    check_that("closet", !r.place.turned);
    check_abs("closet width 0.75 - 0.68", r.place.margin[0], 0.07, 1e-12);
    check_abs("closet depth 1.3 - 1.18", r.place.margin[1], 0.12, 1e-12);
    check_abs("closet height 2.1 - 1.9", r.place.margin[2], 0.2, 1e-12);
    check_abs("front 0.6 + 0.12", r.place.front_free, 0.72, 1e-12);
    check_abs("least", r.margin, 0.07, 1e-12);
    s.width = 1.3;
    s.depth = 0.75;
    r = ask(&c, NULL, 0, &s);
    check_that("turned", r.place.turned);
    check_that("turned", r.place.fits);
    check_abs("turned", r.place.front_free, 0.72, 1e-12);
    s.depth = 0.679;
    r = ask(&c, NULL, 0, &s);
    check_is("1 mm short", r.verdict, ==, CT_FIT_NO);
    check_is("1 mm short", r.tightest, ==, CT_FIT_SPACE);
    check_abs("1 mm short", r.margin, -0.001, 1e-12);
}

/* An attic 1.0 m high takes it on its side: 1.9 long with its plenums, 1.18 deep, 0.68 high. */
static void test_upright_only(void **state)
{
    (void)state;
    ct_cabinet c = cabinet(0.53, 0.56, 1.2);
    const ct_space s = {.has = true,
                        .width = 2.0,
                        .depth = 1.3,
                        .height = 1.0,
                        .front = 0.6,
                        .back = 0.02,
                        .left = 0.05,
                        .right = 0.1,
                        .above = 0.4,
                        .below = 0.3};
    ct_fit_report r = ask(&c, NULL, 0, &s);
    check_is("on its side", r.verdict, ==, CT_FIT_SQUARE);
    check_that("on its side", !r.place.upright);
    check_abs("length", r.place.margin[0], 0.1, 1e-12);
    check_abs("depth", r.place.margin[1], 0.12, 1e-12);
    check_abs("height", r.place.margin[2], 0.32, 1e-12);
    c.upright_only = true;
    r = ask(&c, NULL, 0, &s);
    check_is("must stand", r.verdict, ==, CT_FIT_NO);
    check_that("must stand", r.place.upright);
    check_abs("must stand: 1.0 - 1.9", r.margin, -0.9, 1e-12);
}

/* 1/8 in per ft: common practice. 10 ft of line fall 1.25 in. */
static void test_service(void **state)
{
    (void)state;
    ct_cabinet c = cabinet(0.5, 0.5, 1.0);
    c.drain_outlet = (ct_maybe){true, 2.25 * 0.0254};
    c.filter = (ct_maybe){true, 0.5};
    ct_space s = {.has = true, .width = 1, .depth = 1, .height = 2, .front = 0.4};
    s.drain_run = (ct_maybe){true, 10 * 0.3048};
    s.drain_end = 1.0 * 0.0254;
    ct_fit_report r = ask(&c, NULL, 0, &s);
    check_that("drain", r.has_drain);
    check_that("drain", r.drain_ok);
    check_abs("fall", r.fall_needed, 1.25 * 0.0254, 1e-12);
    check_abs("fall", r.fall_free, 1.25 * 0.0254, 1e-12);
    check_that("filter 0.5 out of 0.5", r.has_filter);
    check_that("filter 0.5 out of 0.5", r.filter_ok);
    s.drain_end += 0.001;
    s.depth = 0.999;
    r = ask(&c, NULL, 0, &s);
    check_that("1 mm less fall", !r.drain_ok);
    check_that("turned across the width the filter still comes out", r.filter_ok);
    s.width = 0.999;
    check_that("1 mm less front", !ask(&c, NULL, 0, &s).filter_ok);
    c.filter.has = false;
    c.drain_outlet.has = false;
    r = ask(&c, NULL, 0, &s);
    check_that("not asked", !r.has_filter);
    check_that("not asked", !r.has_drain);
}

/* ---- faults ---- */

static void test_faults(void **state)
{
    (void)state;
    const ct_cabinet good = cabinet(0.5, 0.5, 1.0);
    ct_cabinet no_depth = cabinet(0.5, 0, 1.0), apart = good, endless = cabinet(0.5, NAN, 1.0);
    apart.sections = 3;
    apart.section_height = 0.3;
    ct_opening no_roof = hatch(1, 1, 0, 0), no_kind = door(1, 1), long_door = door(1, 1);
    no_kind.kind = (ct_opening_kind)9;
    long_door.run = (ct_maybe){true, -1};
    ct_opening ok = door(1, 2), one_way = corner(1, 0, 2), bent = hatch(1, 1, 1, -0.1);
    const ct_space none = {0}, flat = {.has = true, .width = 1, .depth = 1};
    const ct_space odd = {.has = true, .width = 1, .depth = 1, .height = 1, .left = -1};
    const struct {
        const char *says;
        const ct_cabinet *c;
        const ct_opening *o;
        int n;
        const ct_space *s;
    } rows[] = {
        {"depth", &no_depth, &ok, 1, &none},    {"depth", &endless, &ok, 1, &none},
        {"sections", &apart, &ok, 1, &none},    {"headroom", &good, &no_roof, 1, &none},
        {"neither", &good, &no_kind, 1, &none}, {"run", &good, &long_door, 1, &none},
        {"after", &good, &one_way, 1, &none},   {"frame", &good, &bent, 1, &none},
        {"neither", &good, NULL, 0, &none},     {"at most 8", &good, &ok, 9, &none},
        {"height", &good, &ok, 1, &flat},       {"left", &good, &ok, 1, &odd},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        ct_fit_report r;
        ct_fault f = {0};
        memset(&r, 0x5a, sizeof r);
        ct_fit_report before;
        memcpy(&before, &r, sizeof r); /* padding too */
        check_is(rows[i].says, ct_fit(rows[i].c, rows[i].o, rows[i].n, rows[i].s, &r, &f), ==,
                 CT_INPUT);
        check_has(rows[i].says, f.what, rows[i].says);
        check_that("untouched", memcmp(&before, &r, sizeof r) == 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_passages),
        cmocka_unit_test(test_run_behind_door),
        cmocka_unit_test(test_carver),
        cmocka_unit_test(test_ladder),
        cmocka_unit_test(test_sofa),
        cmocka_unit_test(test_corner_by_walking),
        cmocka_unit_test(test_hatch_by_walking),
        cmocka_unit_test(test_hatch_limits),
        cmocka_unit_test(test_sections),
        cmocka_unit_test(test_tilted_verdict),
        cmocka_unit_test(test_space),
        cmocka_unit_test(test_upright_only),
        cmocka_unit_test(test_service),
        cmocka_unit_test(test_faults),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
