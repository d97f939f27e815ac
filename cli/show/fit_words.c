#include "show/fit_words.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

#include "show/quantity.h"

typedef struct {
    char text[40];
} size_text;

/* As a tape reads: to a tenth of an inch, or a millimeter, and "12 in" rather than "12.0 in". More
 * decimals when that would show nothing: 0.3 mm short is not "0 in". */
static size_text size_of(double v, bool metric)
{
    const quantity_form *form = quantity_for_people(Q_SIZE, metric);
    double shown = quantity_show(form, v);
    int decimals = form->decimals - 1;
    if (fabs(v) <= CT_FIT_TOUCH) shown = 0.0; /* and never "-0.0" */
    if (shown != 0.0 && fabs(shown) < pow(10, -decimals)) decimals++;
    if (shown != 0.0 && fabs(shown) < 0.5 * pow(10, -decimals)) decimals += 3;
    size_text size;
    int n = snprintf(size.text, sizeof size.text, "%.*f", decimals, shown);
    while (decimals > 0 && n > 1 && (size.text[n - 1] == '0' || size.text[n - 1] == '.'))
        if (size.text[--n] == '.') break;
    snprintf(size.text + n, sizeof size.text - (size_t)n, " %s", form->unit);
    return size;
}

#define SIZE(v) size_of(v, metric).text

const char *fit_kind_word(ct_opening_kind kind)
{
    static const char *const words[] = {"door", "hatch", "corner"};
    return words[kind];
}

const char *fit_edge_word(ct_edge edge)
{
    static const char *const words[] = {"width", "depth", "height"};
    return words[edge];
}

const char *fit_mark_word(fit_mark mark)
{
    static const char *const words[] = {"ok", "no", "ask"};
    return words[mark];
}

const char *fit_tightest(const ct_case *c, int where)
{
    return where == CT_FIT_SPACE ? "the space" : c->opening[where].name;
}

ct_status fit_judge(const ct_case *c, int unit, fit_answer *a, ct_fault *fault)
{
    const ct_cabinet *cabinet = &c->indoor[unit].cabinet;
    *a = (fit_answer){.judged = cabinet->has && (c->n_openings > 0 || c->space.has)};
    if (!a->judged) return CT_OK;
    return ct_fit(cabinet, c->opening, c->n_openings, &c->space, &a->report, fault);
}

static void verdict_text(const ct_cabinet *cabinet, ct_fit_verdict verdict, char *text, size_t size)
{
    switch (verdict) {
    case CT_FIT_SQUARE: snprintf(text, size, "fits"); break;
    case CT_FIT_TILTED: snprintf(text, size, "fits only tilted"); break;
    case CT_FIT_SECTIONS:
        snprintf(text, size, "fits only in %d sections", cabinet->sections);
        break;
    case CT_FIT_NO: snprintf(text, size, "does not fit"); break;
    }
}

void fit_headline(const ct_case *c, int unit, const fit_answer *a, bool metric,
                  char text[FIT_TEXT_SIZE])
{
    char verdict[40] = "";
    const ct_fit_report *r = &a->report;
    if (!a->judged) {
        snprintf(text, FIT_TEXT_SIZE, "not checked: the list shows what to add to the case file");
        return;
    }
    verdict_text(&c->indoor[unit].cabinet, r->verdict, verdict, sizeof verdict);
    const char *where = fit_tightest(c, r->tightest);
    if (r->verdict == CT_FIT_NO)
        snprintf(text, FIT_TEXT_SIZE, "%s: %s too large for the tightest place, %s", verdict,
                 SIZE(-r->margin), where);
    else
        snprintf(text, FIT_TEXT_SIZE, "%s, with %s to spare at the tightest place, %s", verdict,
                 SIZE(r->margin), where);
}

void fit_cabinet_text(const ct_cabinet *cabinet, bool metric, char text[FIT_TEXT_SIZE])
{
    text[0] = '\0';
    if (!cabinet->has) return;
    const int n = snprintf(text, FIT_TEXT_SIZE, "width %s, depth %s, height %s",
                           SIZE(cabinet->width), SIZE(cabinet->depth), SIZE(cabinet->height));
    if (cabinet->sections > 1)
        snprintf(text + n, FIT_TEXT_SIZE - (size_t)n, ", in %d sections up to %s high",
                 cabinet->sections, SIZE(cabinet->section_height));
}

/* ---- how to hold it ---- */

/* By the edge of the cabinet that points upwards. */
static const char *posture(ct_edge up)
{
    static const char *const words[] = {"lying on a side", "lying flat on back or front",
                                        "standing"};
    return words[up];
}

static const char *first(ct_edge lead, const double box[3])
{
    static const char *const words[] = {"a side first", "front or back first", "an end first"};
    if (lead == CT_EDGE_HEIGHT && box[CT_EDGE_HEIGHT] > fmax(box[0], box[1]))
        return "narrow end first";
    return words[lead];
}

static double degrees(double angle)
{
    return quantity_show(quantity_for_people(Q_ANGLE, false), angle);
}

static void hatch_way(const ct_passage *way, char *text, size_t size)
{
    const int n = snprintf(text, size, "%s, its %s along the hatch's width, ", posture(way->lead),
                           fit_edge_word(way->across));
    text += n;
    size -= (size_t)n;
    switch (way->way) {
    case CT_WAY_SQUARE: snprintf(text, size, "straight up"); break;
    case CT_WAY_ROLLED:
        snprintf(text, size, "straight up but turned %.0f degrees in the hatch",
                 degrees(way->angle));
        break;
    case CT_WAY_TIPPED:
        snprintf(text, size, "tilted as it goes up, tightest at %.0f degrees from upright",
                 degrees(way->angle));
        break;
    }
}

void fit_way_text(const ct_passage *way, ct_opening_kind kind, const double box[3],
                  char text[FIT_TEXT_SIZE])
{
    if (kind == CT_OPEN_HATCH) {
        hatch_way(way, text, FIT_TEXT_SIZE);
        return;
    }
    int n = snprintf(text, FIT_TEXT_SIZE, "%s, %s", posture(way->up), first(way->lead, box));
    if (way->way == CT_WAY_ROLLED)
        n += snprintf(text + n, FIT_TEXT_SIZE - (size_t)n, ", rolled %.0f degrees",
                      degrees(way->angle));
    if (way->way == CT_WAY_TIPPED)
        n += snprintf(text + n, FIT_TEXT_SIZE - (size_t)n, ", leading end raised %.0f degrees",
                      degrees(way->angle));
    if (way->sidestep)
        snprintf(text + n, FIT_TEXT_SIZE - (size_t)n,
                 ", not turned at the corner: forward in one hallway, sideways in the other");
}

/* ---- the checklist ---- */

typedef struct {
    const ct_case *c;
    const ct_cabinet *cabinet;
    const fit_answer *a;
    char unit_key[24]; /* "indoor", "candidates[2]" */
    bool metric;
    fit_line *line;
    int n;
} list;

static void add(list *l, fit_mark mark, const char *topic, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

static void add(list *l, fit_mark mark, const char *topic, const char *format, ...)
{
    fit_line *line = &l->line[l->n++];
    va_list args;
    va_start(args, format);
    vsnprintf(line->text, sizeof line->text, format, args);
    va_end(args);
    line->mark = mark;
    line->topic = topic;
}

static size_text slack(const ct_passage *way, bool metric)
{
    return size_of(way->fits ? way->margin : -way->margin, metric);
}

static void add_opening(list *l, int i)
{
    const ct_opening *o = &l->c->opening[i];
    const ct_passage *whole = &l->a->report.whole[i], *piece = &l->a->report.piece[i];
    const ct_cabinet *cabinet = l->cabinet;
    const double box[3] = {cabinet->width, cabinet->depth, cabinet->height};
    const double part[3] = {cabinet->width, cabinet->depth, cabinet->section_height};
    char way[FIT_TEXT_SIZE], part_way[FIT_TEXT_SIZE];
    fit_way_text(whole, o->kind, box, way);
    fit_way_text(piece, o->kind, part, part_way);
    if (whole->fits)
        add(l, FIT_GOOD, "way_in", "%s: goes through %.200s; %s to spare", o->name, way,
            slack(whole, l->metric).text);
    else if (cabinet->sections < 2)
        add(l, FIT_BAD, "way_in", "%s: %s too large; the closest is %.200s", o->name,
            slack(whole, l->metric).text, way);
    else if (piece->fits)
        add(l, FIT_GOOD, "way_in",
            "%s: in one piece it is %s too large, but the tallest section goes through %.200s; %s "
            "to "
            "spare",
            o->name, slack(whole, l->metric).text, part_way, slack(piece, l->metric).text);
    else
        add(l, FIT_BAD, "way_in",
            "%s: in one piece it is %s too large, the tallest section %s; the closest is %.200s",
            o->name, slack(whole, l->metric).text, slack(piece, l->metric).text, part_way);
}

static void add_place(list *l)
{
    const ct_placement *p = &l->a->report.place;
    const bool metric = l->metric;
    char sizes[200] = "";
    size_t n = 0;
    for (int i = 0; i < 3; i++)
        n += (size_t)snprintf(sizes + n, sizeof sizes - n, "%s%s %s %s", i ? ", " : "",
                              fit_edge_word((ct_edge)i), SIZE(fabs(p->margin[i])),
                              p->margin[i] < -CT_FIT_TOUCH ? "too large" : "to spare");
    add(l, p->fits ? FIT_GOOD : FIT_BAD, "space",
        "space: %s %s, its front facing along the space's %s; with the clearances: %s",
        p->fits ? "fits" : "does not fit, at best", p->upright ? "upright" : "lying on a side",
        p->turned ? "width" : "depth", sizes);
    if (!p->upright)
        add(l, FIT_ASK, "space",
            "lying on a side: the manual must allow it and say which side and which drain pan");
}

static void add_service(list *l)
{
    const ct_placement *p = &l->a->report.place;
    const double asked = l->c->space.front;
    const bool metric = l->metric;
    if (asked > 0.0)
        add(l, p->front_free >= asked - CT_FIT_TOUCH ? FIT_GOOD : FIT_BAD, "service",
            "service: %s free in front, %s needed", SIZE(fmax(p->front_free, 0.0)), SIZE(asked));
    else
        add(l, FIT_ASK, "service",
            "service: %s free in front; look up what the unit needs and add it as space.front",
            SIZE(fmax(p->front_free, 0.0)));
}

static void add_filter(list *l)
{
    const ct_fit_report *r = &l->a->report;
    const bool metric = l->metric;
    if (r->has_filter)
        add(l, r->filter_ok ? FIT_GOOD : FIT_BAD, "filter",
            "filter: %s long, %s free in front to pull it out", SIZE(l->cabinet->filter.v),
            SIZE(fmax(r->place.front_free, 0.0)));
    else if (!l->cabinet->filter.has)
        add(l, FIT_ASK, "filter",
            "filter: add %s.cabinet.filter, its length, to check that it can be pulled out",
            l->unit_key);
}

static void add_condensate(list *l)
{
    const ct_fit_report *r = &l->a->report;
    const bool metric = l->metric;
    if (r->has_drain)
        add(l, r->drain_ok ? FIT_GOOD : FIT_BAD, "condensate",
            "condensate: %s of fall from the drain connection to the end of the line, %s needed "
            "(%s)%s",
            SIZE(r->fall_free), SIZE(r->fall_needed), metric ? "1 in 96" : "1/8 in per ft",
            r->drain_ok ? "" : "; raise the unit, shorten the line, or pump");
    else if (!l->cabinet->drain_outlet.has)
        add(l, FIT_ASK, "condensate",
            "condensate: add %s.cabinet.drain_outlet, the height of its drain connection%s",
            l->unit_key, l->c->space.drain_run.has ? "" : ", and space.drain_run");
    else if (l->c->space.has)
        add(l, FIT_ASK, "condensate", "condensate: add space.drain_run, the length of its line");
}

static void add_missing(list *l)
{
    if (!l->cabinet->has)
        add(l, FIT_ASK, "cabinet", "cabinet: add %s.cabinet with width, depth and height",
            l->unit_key);
    if (l->c->n_openings == 0)
        add(l, FIT_ASK, "way_in",
            "way in: add way_in, a list of its narrow places; each has kind (door, hatch or "
            "corner), width and the sizes of its kind");
    if (!l->c->space.has)
        add(l, FIT_ASK, "space",
            "space: add space with width, depth and height, the clearances (front, "
            "back, left, right, above, below) and drain_run");
}

int fit_checklist(const ct_case *c, int unit, const fit_answer *a, bool metric,
                  fit_line line[FIT_MAX_LINES])
{
    list l = {.c = c, .cabinet = &c->indoor[unit].cabinet, .a = a, .metric = metric, .line = line};
    snprintf(l.unit_key, sizeof l.unit_key, unit ? "candidates[%d]" : "indoor", unit);
    for (int i = 0; i < c->n_openings && a->judged; i++)
        add_opening(&l, i);
    if (a->judged && c->space.has) {
        add_place(&l);
        add_service(&l);
        add_filter(&l);
        add_condensate(&l);
    }
    add_missing(&l);
    return l.n;
}
