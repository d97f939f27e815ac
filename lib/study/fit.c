#include "study/fit.h"

#include <math.h>

#include "base/search.h"

#define QUARTER 1.5707963267948966
#define ROOT_2 1.4142135623730951

/* ---- a smooth function's extreme: coarse scan, then golden section about the best ---- */

typedef double (*curve)(double x, const double *c);

static double golden_min(curve f, const double *c, double lo, double hi, double *x)
{
    const double k = 0.6180339887498949;
    double a = lo, b = hi;
    for (int i = 0; i < 60; i++) {
        double u = b - k * (b - a), v = a + k * (b - a);
        if (f(u, c) < f(v, c)) {
            b = v;
        } else {
            a = u;
        }
    }
    *x = 0.5 * (a + b);
    return f(*x, c);
}

/* The ends are looked at by themselves: golden section only comes near them. */
static double scan_min(curve f, const double *c, double lo, double hi, double *x)
{
    enum { STEPS = 64 };
    double step = (hi - lo) / STEPS, best = f(lo, c);
    *x = lo;
    for (int i = 1; i <= STEPS; i++) {
        double at = i < STEPS ? lo + i * step : hi, y = f(at, c);
        if (y < best) {
            best = y;
            *x = at;
        }
    }
    double at, y = golden_min(f, c, fmax(lo, *x - step), fmin(hi, *x + step), &at);
    if (y < best) {
        best = y;
        *x = at;
    }
    return best;
}

/* ---- rectangle through rectangle ---- */

double ct_fit_rectangle_margin(double p, double q, double a, double b, double *angle)
{
    double best = fmin(a - p, b - q), swapped = fmin(a - q, b - p);
    *angle = 0.0;
    if (swapped > best) {
        best = swapped;
        *angle = QUARTER;
    }
    /* Equal slack: (p - q)(cos - sin) = a - b has one root in the quarter turn, or none. */
    double difference = p - q, k = a - b;
    if (difference == 0.0 || fabs(k) > fabs(difference)) return best;
    double theta = acos(k / difference / ROOT_2) - 0.5 * QUARTER;
    double equal = a - p * cos(theta) - q * sin(theta);
    if (equal > best) {
        best = equal;
        *angle = theta;
    }
    return best;
}

/* ---- corner ---- */

static double swing_room(double theta, const double *c)
{
    return c[1] * sin(theta) + c[2] * cos(theta) - c[0] * sin(theta) * cos(theta);
}

double ct_fit_corner_width(double l, double a, double b)
{
    double c[3] = {l, a, b}, theta;
    return scan_min(swing_room, c, 0.0, QUARTER, &theta);
}

/* Slack in plan of a rectangle l x w: swung round with either side outwards, or not turned at all,
 * so that it goes lengthwise in one corridor and sideways in the other. */
static double corner_slack(double l, double w, double a, double b, bool *sidestep)
{
    double swing = fmax(ct_fit_corner_width(l, a, b) - w, ct_fit_corner_width(w, a, b) - l);
    double side = fmax(fmin(b - l, a - w), fmin(a - l, b - w));
    *sidestep = side > swing;
    return fmax(side, swing);
}

/* ---- hatch ---- */

/* How far the foot may still reach below the hatch's upper edge at this lean, when the full
 * thickness no longer goes through: within the edge only the foot's corner is cut, further down the
 * shaft's side touches the foot's other corner. */
static double foot_below(double lean, double t, double a)
{
    if (a <= t / cos(lean)) return a * sin(lean) * cos(lean);
    return (a - t * cos(lean)) / tan(lean);
}

static double minus_roof_asked(double lean, const double *c)
{
    return foot_below(lean, c[1], c[2]) - c[0] * cos(lean) - c[1] * sin(lean);
}

double ct_fit_hatch_headroom(double l, double t, double a, double frame, double *angle)
{
    *angle = 0.0;
    if (t > a) return l;
    /* Up to this lean the box still slides through: t + frame sin = a cos. */
    double slides = fmax(0.0, acos(t / hypot(a, frame)) - atan2(frame, a));
    double c[3] = {l, t, a};
    return -scan_min(minus_roof_asked, c, slides, QUARTER, angle);
}

/* ---- the best way through an opening ---- */

static int rank(const ct_passage *way)
{
    if (way->margin < -CT_FIT_TOUCH) return 0;
    return way->way == CT_WAY_SQUARE ? 2 : 1;
}

/* Square is less work than tilted, so it wins wherever it fits; else the roomiest, or nearest miss.
 */
static void consider(ct_passage *best, ct_passage way)
{
    way.fits = rank(&way) > 0;
    int gain = rank(&way) - rank(best);
    if (gain > 0 || (gain == 0 && way.margin > best->margin)) *best = way;
}

static ct_passage held(ct_edge lead, ct_edge across)
{
    return (ct_passage){.lead = lead, .across = across, .up = (ct_edge)(3 - lead - across)};
}

/* Along its own edge through a hole width x height, with `room` for the edge that leads. */
static void through_hole(const double box[3], ct_passage way, double width, double height,
                         double room, ct_passage *best)
{
    double across = box[way.across], up = box[way.up];
    double along = room - box[way.lead];
    way.way = CT_WAY_SQUARE;
    way.margin = fmin(along, fmin(width - across, height - up));
    consider(best, way);
    way.margin = fmin(along, ct_fit_rectangle_margin(across, up, width, height, &way.angle));
    way.way = CT_WAY_ROLLED;
    if (way.angle > 0.0 && way.angle < QUARTER) consider(best, way);
}

static void through_door(const double box[3], ct_passage way, const ct_opening *o, ct_passage *best)
{
    through_hole(box, way, o->width, o->height, o->run.has ? o->run.v : HUGE_VAL, best);
}

static void through_hatch(const double box[3], ct_passage way, const ct_opening *o,
                          ct_passage *best)
{
    through_hole(box, way, o->width, o->length, o->headroom, best);
    double l = box[way.lead], across = box[way.across], up = box[way.up], lean;
    double hole = fmin(o->width - across, o->length - up);
    way.way = CT_WAY_TIPPED;
    double roof = ct_fit_hatch_headroom(l, across, o->width, o->frame, &lean);
    way.margin = fmin(hole, o->headroom - roof);
    way.angle = lean;
    consider(best, way);
    roof = ct_fit_hatch_headroom(l, up, o->length, o->frame, &lean);
    way.margin = fmin(hole, o->headroom - roof);
    way.angle = lean;
    consider(best, way);
}

typedef struct {
    double plan;    /* slack in plan */
    double ceiling; /* slack under the ceiling */
    bool sidestep;
} turn_slack;

/* Leading end raised by `tip`: shorter in plan, taller in elevation. */
static turn_slack turn(const double box[3], const ct_passage *way, const ct_opening *o, double tip)
{
    double l = box[way->lead], t = box[way->up];
    double plan = l * cos(tip) + t * sin(tip), tall = l * sin(tip) + t * cos(tip);
    turn_slack s;
    s.plan = corner_slack(plan, box[way->across], o->width, o->width_after, &s.sidestep);
    s.ceiling = o->height - tall;
    return s;
}

static void consider_turn(const double box[3], ct_passage way, const ct_opening *o, double tip,
                          ct_passage *best)
{
    turn_slack s = turn(box, &way, o, tip);
    way.way = tip > 0.0 ? CT_WAY_TIPPED : CT_WAY_SQUARE;
    way.angle = tip;
    way.margin = fmin(s.plan, s.ceiling);
    way.sidestep = s.sidestep;
    consider(best, way);
}

/* Where plan and ceiling slack are equal, between two tips where their order differs. */
typedef struct {
    const double *box;
    const ct_passage *way;
    const ct_opening *o;
    bool plan_first; /* at the low end */
} tip_search;

static bool order_as_low(double tip, void *context)
{
    const tip_search *at = context;
    const turn_slack s = turn(at->box, at->way, at->o, tip);
    return (s.plan < s.ceiling) == at->plan_first;
}

static double equal_tip(const double box[3], const ct_passage *way, const ct_opening *o, double lo,
                        double hi)
{
    const turn_slack s = turn(box, way, o, lo);
    return ct_search_halve(order_as_low, &(tip_search){box, way, o, s.plan < s.ceiling}, lo, hi,
                           50);
}

/* Both slacks first fall and then rise with the tip, so the best is at an end or where they cross;
 * a quarter turn is another edge held square, and comes by itself. */
static void round_corner(const double box[3], ct_passage way, const ct_opening *o, ct_passage *best)
{
    enum { STEPS = 90 };
    consider_turn(box, way, o, 0.0, best);
    turn_slack before = turn(box, &way, o, 0.0);
    for (int i = 1; i <= STEPS; i++) {
        double tip = QUARTER * i / STEPS;
        turn_slack s = turn(box, &way, o, tip);
        if ((s.plan < s.ceiling) != (before.plan < before.ceiling)) {
            double at = equal_tip(box, &way, o, tip - QUARTER / STEPS, tip);
            consider_turn(box, way, o, at, best);
        }
        before = s;
    }
}

/* ---- checks ---- */

static ct_status need(double v, const char *owner, const char *what, ct_fault *fault)
{
    if (isfinite(v) && v > 0.0) return CT_OK;
    return ct_fail(fault, CT_INPUT, v, 0.0, NAN,
                   "%s: its %s is %.4g m; it must be given and above 0: measure it", owner, what,
                   v);
}

static ct_status check_opening(const ct_opening *o, ct_fault *fault)
{
    bool hatch = o->kind == CT_OPEN_HATCH;
    const char *name = o->name[0] ? o->name : "opening";
    if (o->kind != CT_OPEN_DOOR && !hatch && o->kind != CT_OPEN_CORNER)
        return ct_fault_say(fault, CT_INPUT, "%s: neither door, hatch nor corner", name);
    if (need(o->width, name, "width", fault) != CT_OK) return CT_INPUT;
    if (!hatch && need(o->height, name, "height", fault) != CT_OK) return CT_INPUT;
    if (hatch && need(o->length, name, "length", fault) != CT_OK) return CT_INPUT;
    if (hatch && need(o->headroom, name, "headroom", fault) != CT_OK) return CT_INPUT;
    if (hatch && !(isfinite(o->frame) && o->frame >= 0.0))
        return ct_fail(fault, CT_INPUT, o->frame, 0.0, NAN,
                       "%s: frame depth is %.4g m; it must be 0 or more", name, o->frame);
    if (o->kind == CT_OPEN_CORNER && need(o->width_after, name, "width after the turn", fault))
        return CT_INPUT;
    if (o->kind == CT_OPEN_DOOR && o->run.has) return need(o->run.v, name, "clear run", fault);
    return CT_OK;
}

static ct_status check_box(const double box[3], ct_fault *fault)
{
    static const char *const edge[3] = {"width", "depth", "height"};
    for (int i = 0; i < 3; i++) {
        if (need(box[i], "cabinet", edge[i], fault) != CT_OK) return CT_INPUT;
    }
    return CT_OK;
}

static ct_status check_sections(const ct_cabinet *c, ct_fault *fault)
{
    if (c->sections < 0)
        return ct_fail(fault, CT_INPUT, c->sections, 1.0, NAN,
                       "cabinet: %d sections; give 1, or the number it comes apart into",
                       c->sections);
    if (c->sections < 2) return CT_OK;
    double least = c->height / c->sections, s = c->section_height;
    if (s >= least - CT_FIT_TOUCH && s <= c->height) return CT_OK;
    return ct_fail(fault, CT_INPUT, s, least, c->height,
                   "cabinet: tallest of %d sections is %.4g m; with a height of %.4g m it must be "
                   "%.4g m to %.4g m",
                   c->sections, s, c->height, least, c->height);
}

static ct_status check_space(const ct_space *s, ct_fault *fault)
{
    static const char *const edge[3] = {"width", "depth", "height"};
    static const char *const side[6] = {"front", "back", "left", "right", "above", "below"};
    const double size[3] = {s->width, s->depth, s->height};
    const double gap[6] = {s->front, s->back, s->left, s->right, s->above, s->below};
    for (int i = 0; i < 3; i++) {
        if (need(size[i], "space", edge[i], fault) != CT_OK) return CT_INPUT;
    }
    for (int i = 0; i < 6; i++) {
        if (!(isfinite(gap[i]) && gap[i] >= 0.0))
            return ct_fail(fault, CT_INPUT, gap[i], 0.0, NAN,
                           "space: clearance %s is %.4g m; it must be 0 or more", side[i], gap[i]);
    }
    return CT_OK;
}

static ct_status check_service(const ct_cabinet *c, const ct_space *s, ct_fault *fault)
{
    if (c->filter.has && need(c->filter.v, "cabinet", "filter length", fault)) return CT_INPUT;
    if (!c->drain_outlet.has || !s->drain_run.has) return CT_OK;
    double sum = c->drain_outlet.v + s->drain_run.v + s->drain_end;
    if (isfinite(sum) && c->drain_outlet.v >= 0.0 && s->drain_run.v >= 0.0) return CT_OK;
    return ct_fail(
        fault, CT_INPUT, s->drain_run.v, 0.0, NAN,
        "drain: outlet at %.4g m, line of %.4g m, end at %.4g m; outlet and line must be 0 "
        "or more, and all three numbers",
        c->drain_outlet.v, s->drain_run.v, s->drain_end);
}

static ct_status check(const ct_cabinet *c, const ct_opening *o, int n, const ct_space *s,
                       ct_fault *fault)
{
    const double box[3] = {c->width, c->depth, c->height};
    if (n < 0 || n > CT_MAX_OPENINGS)
        return ct_fail(fault, CT_INPUT, n, 0.0, CT_MAX_OPENINGS,
                       "way in: %d openings; at most %d are allowed", n, CT_MAX_OPENINGS);
    if (n == 0 && !s->has)
        return ct_fault_say(fault, CT_INPUT,
                            "fit: neither an opening nor the space is given; give at least one");
    if (check_box(box, fault) != CT_OK || check_sections(c, fault) != CT_OK) return CT_INPUT;
    for (int i = 0; i < n; i++) {
        if (check_opening(&o[i], fault) != CT_OK) return CT_INPUT;
    }
    if (s->has && check_space(s, fault) != CT_OK) return CT_INPUT;
    return check_service(c, s, fault);
}

/* ---- the whole way ---- */

static ct_passage best_way(const double box[3], const ct_opening *o)
{
    /* Of ways with the same slack the first is kept: standing is the easiest on unit and people. */
    static const ct_edge along_and_across[6][2] = {
        {CT_EDGE_DEPTH, CT_EDGE_WIDTH},  {CT_EDGE_WIDTH, CT_EDGE_DEPTH},
        {CT_EDGE_HEIGHT, CT_EDGE_WIDTH}, {CT_EDGE_HEIGHT, CT_EDGE_DEPTH},
        {CT_EDGE_DEPTH, CT_EDGE_HEIGHT}, {CT_EDGE_WIDTH, CT_EDGE_HEIGHT}};
    const int standing =
        o->kind == CT_OPEN_HATCH ? 2 : 0; /* the leading edge points upwards there */
    ct_passage best = {.margin = -INFINITY};
    for (int k = 0; k < 6; k++) {
        const int i = (standing + k) % 6;
        ct_passage way = held(along_and_across[i][0], along_and_across[i][1]);
        switch (o->kind) {
        case CT_OPEN_DOOR: through_door(box, way, o, &best); break;
        case CT_OPEN_HATCH: through_hatch(box, way, o, &best); break;
        case CT_OPEN_CORNER: round_corner(box, way, o, &best); break;
        }
    }
    return best;
}

ct_status ct_fit_passage(const double box[3], const ct_opening *o, ct_passage *out, ct_fault *fault)
{
    if (check_box(box, fault) != CT_OK || check_opening(o, fault) != CT_OK) return CT_INPUT;
    *out = best_way(box, o);
    return CT_OK;
}

/* Four ways to stand: on its base or on its side, the front along the depth or along the width.
 * Never on its back: the front must be reached from the side. */
static ct_placement stand(const ct_cabinet *c, const ct_space *s, bool upright, bool turned)
{
    double W = c->width + s->left + s->right, D = c->depth + s->front + s->back;
    double H = c->height + s->above + s->below;
    double beside = upright ? W : H, tall = upright ? H : W;
    ct_placement p = {.upright = upright, .turned = turned};
    p.margin[0] = s->width - (turned ? D : beside);
    p.margin[1] = s->depth - (turned ? beside : D);
    p.margin[2] = s->height - tall;
    p.smallest = fmin(p.margin[0], fmin(p.margin[1], p.margin[2]));
    p.fits = p.smallest >= -CT_FIT_TOUCH;
    p.front_free = s->front + p.margin[turned ? 0 : 1];
    return p;
}

static ct_placement best_stand(const ct_cabinet *c, const ct_space *s)
{
    ct_placement best = stand(c, s, true, false), next = stand(c, s, true, true);
    if (next.smallest > best.smallest) best = next;
    if (c->upright_only || best.fits) return best;
    for (int turned = 0; turned < 2; turned++) {
        next = stand(c, s, false, turned != 0);
        if (next.smallest > best.smallest) best = next;
    }
    return best;
}

typedef struct {
    bool fits, tilted;
    double margin;
    int tightest;
} journey;

static journey travel(const ct_passage *way, int n)
{
    journey j = {.fits = true, .margin = INFINITY, .tightest = CT_FIT_SPACE};
    for (int i = 0; i < n; i++) {
        j.fits = j.fits && way[i].fits;
        j.tilted = j.tilted || way[i].way != CT_WAY_SQUARE;
        if (way[i].margin < j.margin) {
            j.margin = way[i].margin;
            j.tightest = i;
        }
    }
    return j;
}

static void judge(ct_fit_report *r, int n, bool parts, bool has_space)
{
    journey whole = travel(r->whole, n), j = whole;
    if (!whole.fits && parts) j = travel(r->piece, n);
    r->verdict = !j.fits        ? CT_FIT_NO
                 : !whole.fits  ? CT_FIT_SECTIONS
                 : whole.tilted ? CT_FIT_TILTED
                                : CT_FIT_SQUARE;
    r->margin = j.margin;
    r->tightest = j.tightest;
    if (!has_space) return;
    if (!r->place.fits) r->verdict = CT_FIT_NO;
    if (r->place.smallest < r->margin) {
        r->margin = r->place.smallest;
        r->tightest = CT_FIT_SPACE;
    }
}

static void service(const ct_cabinet *c, const ct_space *s, ct_fit_report *r)
{
    r->has_filter = s->has && c->filter.has;
    r->filter_ok = r->has_filter && r->place.front_free >= c->filter.v - CT_FIT_TOUCH;
    r->has_drain = c->drain_outlet.has && s->drain_run.has;
    if (!r->has_drain) return;
    r->fall_needed = s->drain_run.v * CT_FIT_FALL;
    r->fall_free = c->drain_outlet.v - s->drain_end;
    r->drain_ok = r->fall_free >= r->fall_needed - CT_FIT_TOUCH;
}

ct_status ct_fit(const ct_cabinet *c, const ct_opening *openings, int n, const ct_space *s,
                 ct_fit_report *report, ct_fault *fault)
{
    if (check(c, openings, n, s, fault) != CT_OK) return CT_INPUT;
    const double whole[3] = {c->width, c->depth, c->height};
    const double piece[3] = {c->width, c->depth, c->section_height};
    bool parts = c->sections > 1;
    ct_fit_report r = {0};
    for (int i = 0; i < n; i++) {
        r.whole[i] = best_way(whole, &openings[i]);
        if (parts) r.piece[i] = best_way(piece, &openings[i]);
    }
    if (s->has) r.place = best_stand(c, s);
    judge(&r, n, parts, s->has);
    service(c, s, &r);
    *report = r;
    return CT_OK;
}
