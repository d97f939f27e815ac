#include "page/plots.h"
#include <errno.h>
#include <math.h>
#include <string.h>

#include "base/complain.h"
#include "base/number_text.h"
#include "show/plot_script.h"
#include "show/quantity.h"

enum { MAX_SHOWN = 70 }; /* airflows drawn; more makes the page large and the curves no better */

const char *const page_plot_file[PICTURE_COUNT] = {"capacity.svg", "temperature.svg",
                                                   "humidity.svg", "superheat.svg"};

/* The colors are Okabe and Ito's (2008), two of them darkened; dashes and markers differ too. */
static const char preamble[] =
    "set encoding utf8\nhere = ''\n"
    "do for [i = 1:strlen(ARG0)] { if (ARG0[i:i] eq '/') { here = ARG0[1:i] } }\n"
    "set datafile missing 'NaN'\n"
    "set style line 1 lc rgb '#00609A' lw 2.6 dt 1 pt 7 ps 0.45\n"
    "set style line 2 lc rgb '#B84A00' lw 2.6 dt (12,6) pt 5 ps 0.4\n"
    "set style line 3 lc rgb '#00704F' lw 2.6 dt (12,5,3,5) pt 9 ps 0.55\n"
    "set style line 4 lc rgb '#000000' lw 2 dt (3,4)\n"
    "set style line 5 lc rgb '#000000' lw 1.2 pt 6 ps 0.85\n"
    "set style line 6 lc rgb '#000000' lw 1.6 pt 13 ps 0.85\n"
    "set style line 7 lc rgb '#8A2F6B' lw 2.6 dt (4,4) pt 11 ps 0.55\n"
    "set style line 9 lc rgb '#D0D0D0' lw 0.6 dt 1\n"
    "set border 3 lc rgb '#606060'\n"
    "set tics nomirror textcolor rgb 'black'\n"
    "set grid xtics ytics ls 9\n"
    "set lmargin at screen 0.14\nset rmargin at screen 0.955\n"
    "set xlabel offset 0,0.45\nset ylabel offset 0.9,0\n";

typedef struct {
    FILE *out;
    const picture_facts *facts;
} sketch;

static double axis(const sketch *s, quantity q, double v)
{
    return quantity_show(quantity_for_people(q, s->facts->metric), v);
}

static double axis_heat(const sketch *s, double v)
{
    return axis(s, Q_HEAT, v) * (s->facts->metric ? 1 : 1e-3);
}

static void put(const sketch *s, double v)
{
    char text[NUMBER_TEXT_SIZE];
    fprintf(s->out, "%s ", number_text(text, v, 7) ? text : "NaN");
}

static double humidity(bool has, const ct_room_out *room)
{
    return has ? 100 * room->rh : (double)NAN;
}

/* What is compared with a limit there, NaN where it is not judged. */
static double judged(const ct_point *p, ct_limit limit)
{
    const ct_judgment *j = &p->limit[limit];
    return p->status == CT_OK && j->verdict != CT_NOT_JUDGED ? j->value : (double)NAN;
}

/* flow total sensible latent suction surface adp humidity humidity-with-fan-on pick number-to-show
 * sensible-held-against-the-load surface-held-against-frost */
static void put_point(const sketch *s, const ct_point *p, bool is_pick, int shown)
{
    const ct_balance *b = &p->balance;
    const bool ok = p->status == CT_OK;
    put(s, axis(s, Q_AIRFLOW_PER_TON, p->V_std_per_ton));
    put(s, ok ? axis_heat(s, b->Q_net) : (double)NAN);
    put(s, ok ? axis_heat(s, b->Q_sens_net) : (double)NAN);
    put(s, ok ? axis_heat(s, b->Q_lat) : (double)NAN);
    put(s, ok ? axis(s, Q_TEMPERATURE, b->Te) : (double)NAN);
    put(s, ok ? axis(s, Q_TEMPERATURE, b->T_surface) : (double)NAN);
    put(s, ok && b->has_adp ? axis(s, Q_TEMPERATURE, b->ADP) : (double)NAN);
    put(s, humidity(ok && p->has_room, &p->room));
    put(s, humidity(ok && p->has_room_fan_on, &p->room_fan_on));
    fprintf(s->out, shown ? "%d \"%d\" " : "%d \"\" ", is_pick, shown);
    put(s, axis_heat(s, judged(p, CT_LIMIT_SENSIBLE)));
    put(s, axis(s, Q_TEMPERATURE, judged(p, CT_LIMIT_FROST)));
    fputs("\n", s->out);
}

static bool apart(const sketch *s, int tap, int other)
{
    const ct_sweep *w = s->facts->sweep;
    const double span = w->point[w->n - 1].V_std_per_ton - w->point[0].V_std_per_ton;
    return fabs(w->tap[tap].V_std_per_ton - w->tap[other].V_std_per_ton) >= 0.05 * span;
}

/* The number above a tap's mark. Taps that move nearly the same air have no room for one each: then
 * some go without, 0, but never the pick. Taps are in order of airflow. */
static int number_of(const sketch *s, int tap)
{
    const ct_pick *pick = s->facts->pick;
    const int chosen = pick->found && pick->from_taps ? pick->index : -1;
    int last = -1;
    for (int i = 0; i <= tap; i++)
        if (i == chosen || ((last < 0 || apart(s, i, last)) && (chosen < 0 || apart(s, i, chosen))))
            last = i;
    return last == tap ? s->facts->sweep->tap[tap].tap + 1 : 0;
}

static void put_sweep(const sketch *s)
{
    const ct_sweep *sweep = s->facts->sweep;
    const ct_pick *pick = s->facts->pick;
    const ct_point *chosen = ct_pick_point(pick, sweep);
    const int step = (sweep->n + MAX_SHOWN - 1) / MAX_SHOWN;
    fputs("$sweep << END\n", s->out);
    for (int i = 0; i < sweep->n; i += step)
        put_point(s, &sweep->point[i], false, 0);
    fputs("END\n", s->out);
    if (sweep->n_taps > 0) {
        fputs("$marks << END\n", s->out);
        for (int i = 0; i < sweep->n_taps; i++)
            put_point(s, &sweep->tap[i], chosen == &sweep->tap[i], number_of(s, i));
        fputs("END\n", s->out);
    } else if (chosen) {
        fputs("$marks << END\n", s->out);
        put_point(s, chosen, true, 0);
        fputs("END\n", s->out);
    }
}

static const char *flow_label(const sketch *s)
{
    if (s->facts->at->c->outdoor.low.has)
        return s->facts->metric ? "High stage, L/s of standard air per ton"
                                : "High stage, standard cfm per ton";
    return s->facts->metric ? "Airflow, L/s of standard air per ton"
                            : "Airflow, standard cfm per ton";
}

/* Taps that are not the pick. */
static int other_taps(const sketch *s)
{
    const ct_pick *pick = s->facts->pick;
    return s->facts->sweep->n_taps - (pick->found && pick->from_taps);
}

/* Open circles at the taps, a diamond at the pick, on column `column`; gnuplot complains of a curve
 * without a point, so none is drawn. */
static void put_marks(const sketch *s, int column, bool names)
{
    const char *label = names && s->facts->sweep->n_taps > 0 ? ":x2tic(stringcolumn(11))" : "";
    if (other_taps(s) > 0)
        fprintf(s->out, ", $marks u 1:($10==1?NaN:$%d)%s w p ls 5 notitle", column, label);
    if (s->facts->pick->found)
        fprintf(s->out, ", $marks u 1:($10==1?$%d:NaN)%s w p ls 6 notitle", column, label);
}

static void put_mark_keys(const sketch *s)
{
    if (other_taps(s) > 0) fputs(", keyentry w p ls 5 title 'speed'", s->out);
    if (s->facts->pick->found) fputs(", keyentry w p ls 6 title 'pick'", s->out);
}

/* Upright axis: whole steps of 1, 2 or 5 times a power of ten, at most six of them, so that the
 * labels keep clear of each other in a low picture. */
typedef struct {
    double low, high;
} extent;

static void reach(extent *e, double v)
{
    if (!isfinite(v)) return;
    e->low = fmin(e->low, v);
    e->high = fmax(e->high, v);
}

static double step_for(double length)
{
    static const double steps[] = {1, 2, 5, 10};
    const double power = pow(10, floor(log10(length / 6)));
    int i = 0;
    while (i < 3 && steps[i] * power < length / 6 * (1 - 1e-9))
        i++;
    return steps[i] * power;
}

static void set_axis(const sketch *s, extent e)
{
    if (!(e.high > e.low)) e = (extent){e.low - 1, e.low + 1};
    const double step = step_for(e.high - e.low);
    fputs("set yrange [", s->out);
    put(s, step * floor(e.low / step + 1e-9));
    fputs(":", s->out);
    put(s, step * ceil(e.high / step - 1e-9));
    fputs("]\nset ytics ", s->out);
    put(s, step);
    fputs("\n", s->out);
}

/* From the lowest to the highest over all airflows and taps that balance, and what else is drawn.
 */
static extent over_all(const sketch *s, void (*add)(const sketch *, const ct_point *, extent *),
                       double also)
{
    extent e = {INFINITY, -INFINITY};
    const ct_sweep *sweep = s->facts->sweep;
    for (int i = 0; i < sweep->n; i++)
        if (sweep->point[i].status == CT_OK) add(s, &sweep->point[i], &e);
    for (int i = 0; i < sweep->n_taps; i++)
        if (sweep->tap[i].status == CT_OK) add(s, &sweep->tap[i], &e);
    reach(&e, also);
    return e;
}

static void add_flow(const sketch *s, const ct_point *p, extent *e)
{
    reach(e, axis(s, Q_AIRFLOW_PER_TON, p->V_std_per_ton));
}

/* The same for both level axes, or the numbers of the speeds would not be above their marks. */
static void set_flows(const sketch *s)
{
    const extent e = over_all(s, add_flow, (double)NAN);
    for (int i = 1; i <= 2; i++) {
        fprintf(s->out, "set x%srange [", i == 1 ? "" : "2");
        put(s, e.low - 0.02 * (e.high - e.low) - 1e-6);
        fputs(":", s->out);
        put(s, e.high + 0.02 * (e.high - e.low) + 1e-6);
        fputs("]\n", s->out);
    }
}

/* The frame is as high in every picture, the picture as high as its key needs. The SVG terminal
 * takes type for wider than it is: `width` draws long names' columns together again. */
static void set_frame(const sketch *s, int key_rows)
{
    const double top = 25, frame = 114, below = 60, row = 18.5;
    const double high = top + frame + below + row * key_rows;
    fprintf(s->out,
            "set terminal svg noenhanced size 430,%.0f font 'Helvetica,Arial,sans-serif,14' "
            "dashlength 0.55 background 'white'\n",
            high);
    fputs("set tmargin at screen ", s->out);
    put(s, 1 - top / high);
    fputs("\nset bmargin at screen ", s->out);
    put(s, 1 - (top + frame) / high);
    fputs("\nset key at screen 0.51,", s->out);
    put(s, (0.5 * row * key_rows + 4) / high);
    fprintf(s->out, " center center vertical reverse Left samplen 2.4 width %d maxrows %d\n",
            key_rows > 2 ? -3 : 0, key_rows);
}

/* In two columns, those of little to say in as many as it takes. The capacity's curves and load are
 * five; a sheet with no pick has more to say above its pictures. */
static int key_rows(const sketch *s, page_picture which)
{
    const bool both = other_taps(s) > 0 && s->facts->pick->found;
    if (which == PICTURE_CAPACITY) return both ? 4 : 3;
    return which == PICTURE_TEMPERATURE ? 3 : 2;
}

static void begin(const sketch *s, page_picture which, const char *y_label, extent y)
{
    set_frame(s, key_rows(s, which));
    fprintf(s->out, "set output here.'%s'\nset xlabel '%s'\nset ylabel '%s'\n",
            page_plot_file[which], flow_label(s), y_label);
    set_axis(s, y);
}

static void add_heat(const sketch *s, const ct_point *p, extent *e)
{
    reach(e, 0);
    reach(e, axis_heat(s, p->balance.Q_net));
    reach(e, axis_heat(s, p->balance.Q_lat));
    reach(e, axis_heat(s, judged(p, CT_LIMIT_SENSIBLE)));
}

static void add_temperature(const sketch *s, const ct_point *p, extent *e)
{
    reach(e, axis(s, Q_TEMPERATURE, p->balance.Te));
    reach(e, axis(s, Q_TEMPERATURE, p->balance.T_surface));
    reach(e, axis(s, Q_TEMPERATURE, judged(p, CT_LIMIT_FROST)));
    if (p->balance.has_adp) reach(e, axis(s, Q_TEMPERATURE, p->balance.ADP));
}

static void add_humidity(const sketch *s, const ct_point *p, extent *e)
{
    (void)s;
    reach(e, humidity(p->has_room, &p->room));
    reach(e, humidity(p->has_room_fan_on, &p->room_fan_on));
}

static bool has_adp(const ct_point *p)
{
    return p->status == CT_OK && p->balance.has_adp;
}

static bool has_room(const ct_point *p)
{
    return p->has_room;
}

static bool has_room_fan_on(const ct_point *p)
{
    return p->has_room_fan_on;
}

/* In the air the house settles at, or past ducts outside it, what reaches the rooms is another
 * capacity than the coil's at the air as read; that one is compared with the load. */
static bool carries_otherwise(const ct_point *p)
{
    const double v = judged(p, CT_LIMIT_SENSIBLE);
    return isfinite(v) && fabs(v - p->balance.Q_sens_net) > 1e-3 * fabs(v);
}

static bool colder_later(const ct_point *p)
{
    const double v = judged(p, CT_LIMIT_FROST);
    return isfinite(v) && v < p->balance.T_surface - 0.05;
}

/* A curve needs a point: gnuplot complains of one without. */
static bool any(const sketch *s, bool (*has)(const ct_point *))
{
    for (int i = 0; i < s->facts->sweep->n; i++)
        if (has(&s->facts->sweep->point[i])) return true;
    return false;
}

static void draw_capacity(const sketch *s)
{
    const ct_house *house = &s->facts->at->c->house;
    const double load = axis_heat(s, house->Q_sensible * (1 + house->margin));
    begin(s, PICTURE_CAPACITY, s->facts->metric ? "Net, kW" : "Net, 1000 Btu/h",
          over_all(s, add_heat, load));
    const bool own = any(s, carries_otherwise), settled = house->judge_load_at == CT_LOAD_SETTLED;
    fputs("plot $sweep u 1:2 w lp ls 1 pi 8 title 'total', '' u 1:3 w lp ls 2 pi 8 title ", s->out);
    fprintf(s->out, own ? "'sensible at %.0f%% RH'" : "'sensible'",
            100 * ct_air_rh(&s->facts->at->indoor));
    fputs(", '' u 1:4 w lp ls 3 pi 8 title 'latent'", s->out);
    if (own)
        fprintf(s->out, ", '' u 1:12 w lp ls 7 pi 8 title 'sensible, %s'",
                settled ? "settled" : "delivered");
    fputs(", '' u 1:(", s->out);
    put(s, load);
    fputs(") w l ls 4 title 'load'", s->out);
    put_marks(s, 2, true);
    put_marks(s, own ? 12 : 3, false);
    put_marks(s, 4, false);
    put_mark_keys(s);
    fputs("\n", s->out);
}

static void draw_temperature(const sketch *s)
{
    const double frost =
        axis(s, Q_TEMPERATURE, CT_FROST_LINE + s->facts->at->c->limits.frost_guard);
    char label[64];
    snprintf(label, sizeof label, "Temperature, %s", plot_script_degree(s->facts->metric));
    begin(s, PICTURE_TEMPERATURE, label, over_all(s, add_temperature, frost));
    fputs(any(s, has_adp) ? "plot $sweep u 1:7 w lp ls 1 pi 8 title 'apparatus dew point', "
                          : "plot ",
          s->out);
    fputs("$sweep u 1:6 w lp ls 3 pi 8 "
          "title 'coldest surface', '' u 1:5 w lp ls 2 pi 8 title 'saturated suction'",
          s->out);
    const bool mild = any(s, colder_later);
    if (mild) fputs(", '' u 1:13 w lp ls 7 pi 8 title 'surface, mild hour'", s->out);
    fputs(", '' u 1:(", s->out);
    put(s, frost);
    fputs(") w l ls 4 title 'frost line'", s->out);
    for (int column = 5; column <= (any(s, has_adp) ? 7 : 6); column++)
        put_marks(s, column, column == 5);
    if (mild) put_marks(s, 13, false);
    fputs("\n", s->out);
}

static void draw_humidity(const sketch *s)
{
    const ct_maybe *ceiling = &s->facts->at->c->house.rh_ceiling;
    if (!any(s, has_room)) return;
    begin(s, PICTURE_HUMIDITY, "Relative humidity, %",
          over_all(s, add_humidity, ceiling->has ? 100 * ceiling->v : (double)NAN));
    fprintf(s->out, "plot $sweep u 1:8 w lp ls 1 pi 8 title '%s'",
            s->facts->at->c->house.fan_on ? "fan ON" : "fan AUTO");
    if (any(s, has_room_fan_on)) fputs(", '' u 1:9 w lp ls 2 pi 8 title 'fan ON'", s->out);
    if (ceiling->has) {
        fputs(", '' u 1:(", s->out);
        put(s, 100 * ceiling->v);
        fputs(") w l ls 4 title 'limit'", s->out);
    }
    put_marks(s, 8, true);
    put_mark_keys(s);
    fputs("\n", s->out);
}

static void put_study(const sketch *s, const char *name, const ct_study_point *points)
{
    fprintf(s->out, "%s << END\n", name);
    for (int i = 0; i < STUDY_POINTS; i++) {
        put(s, axis(s, Q_TEMPERATURE, points[i].x));
        put(s, points[i].status == CT_OK ? axis(s, Q_DELTA_T, points[i].balance.superheat)
                                         : (double)NAN);
        fputs("\n", s->out);
    }
    fputs("END\n", s->out);
}

static extent over_days(const sketch *s)
{
    extent e = {0, 0};
    for (int i = 0; i < STUDY_POINTS; i++) {
        const ct_study_point *own = &s->facts->own[i], *other = &s->facts->other[i];
        if (own->status == CT_OK) reach(&e, axis(s, Q_DELTA_T, own->balance.superheat));
        if (s->facts->has_other && other->status == CT_OK)
            reach(&e, axis(s, Q_DELTA_T, other->balance.superheat));
    }
    return e;
}

static void draw_superheat(const sketch *s)
{
    const bool valve = s->facts->at->system.meter.kind == CT_METER_VALVE;
    char label[64];
    if (!s->facts->has_study) return;
    put_study(s, "$own", s->facts->own);
    if (s->facts->has_other) put_study(s, "$other", s->facts->other);
    snprintf(label, sizeof label, "Superheat, %s", s->facts->metric ? "K" : "°F");
    begin(s, PICTURE_SUPERHEAT, label, over_days(s));
    fprintf(s->out,
            "set xlabel 'Outdoor temperature, %s'\nunset x2tics\nset xrange [*:*]\n"
            "plot $own u 1:2 w lp ls 1 pi 2 title '%s'",
            plot_script_degree(s->facts->metric),
            valve ? "valve, as installed" : "piston, as installed");
    if (s->facts->has_other)
        fprintf(s->out, ", $other u 1:2 w lp ls 2 pi 2 title '%s'",
                valve ? "a piston instead" : "a valve instead");
    fputs("\n", s->out);
}

bool page_plots_write(const char *path, const picture_facts *facts)
{
    const sketch s = {fopen(path, "w"), facts};
    if (!s.out && errno == ENOMEM) complain_incomplete();
    if (!s.out) return false;
    fputs(preamble, s.out);
    if (facts->sweep->n_taps > 0) fputs("set x2tics scale 0 offset 0,-0.4 ()\n", s.out);
    put_sweep(&s);
    set_flows(&s);
    draw_capacity(&s);
    draw_temperature(&s);
    draw_humidity(&s);
    draw_superheat(&s);
    const bool good = !ferror(s.out);
    return fclose(s.out) == 0 && good;
}
