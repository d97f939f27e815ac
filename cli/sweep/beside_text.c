#include "sweep/beside_text.h"

#include <math.h>

#include "base/paragraph.h"
#include "show/against_words.h"
#include "show/json_out.h"
#include "show/limit_words.h"
#include "sweep/pick_text.h"

static const ct_point *speed(const sweep_result *r, int i)
{
    return ct_pick_candidate(r->view.pick, r->view.sweep, i);
}

/* ---- Other speeds ---------------------------------------------------------------- */

static void say_driest(FILE *out, const ct_point *p, const ct_point *pick)
{
    fputs("driest, the house settles at ", out);
    against_words(out, p->room.rh, pick->room.rh);
}

/* Watts over an hour are as many Wh. */
static void say_energy(FILE *out, double energy, bool metric)
{
    char watts[SHOWN_SIZE];
    fprintf(out, "%sh", shown(watts, Q_ELECTRIC, energy, metric));
}

static void say_cheapest(FILE *out, const sweep_result *r, const ct_point *p, const ct_point *pick)
{
    fputs("cheapest to run, ", out);
    say_energy(out, ct_beside_power(r->view.job, p), r->metric);
    fputs(" for an hour of this load instead of ", out);
    say_energy(out, ct_beside_power(r->view.job, pick), r->metric);
}

static void say_reserve(FILE *out, const sweep_result *r, const ct_point *p, const ct_point *pick)
{
    char load[SHOWN_SIZE], then[SHOWN_SIZE], T[SHOWN_SIZE];
    fprintf(out, "most reserve, it carries %s instead of %s",
            shown(load, Q_HEAT, p->Q_load_max, r->metric),
            shown(then, Q_HEAT, pick->Q_load_max, r->metric));
    if (r->has_hottest_reserve)
        fprintf(out, ", up to %s outdoors",
                shown(T, Q_TEMPERATURE, r->T_hottest_reserve, r->metric));
}

static void say_faster(FILE *out, const sweep_result *r, const ct_point *p, const ct_point *pick)
{
    char gain[SHOWN_SIZE];
    const double dE = ct_beside_power(r->view.job, p) - ct_beside_power(r->view.job, pick);
    fputs("humidity is right there too, ", out);
    against_words(out, p->room.rh, pick->room.rh);
    fprintf(out, "; it carries %s more and takes ",
            shown(gain, Q_HEAT, p->Q_load_max - pick->Q_load_max, r->metric));
    say_energy(out, fabs(dE), r->metric);
    fprintf(out, " %s for an hour of this load", dE < 0 ? "less" : "more");
}

enum { DRIEST, CHEAPEST, RESERVE, FASTER, ROWS };

static void say_row(FILE *out, const sweep_result *r, int row, const ct_point *p)
{
    const ct_point *pick = speed(r, r->view.pick->index);
    switch (row) {
    case DRIEST: say_driest(out, p, pick); break;
    case CHEAPEST: say_cheapest(out, r, p, pick); break;
    case RESERVE: say_reserve(out, r, p, pick); break;
    default: say_faster(out, r, p, pick); break;
    }
}

/* One line a speed, with all that it is best at. */
static void print_other(FILE *out, const sweep_result *r, const int other[ROWS], int first)
{
    paragraph text;
    FILE *t;
    if (!(t = paragraph_open(&text))) return;
    pick_text_speed(t, r, speed(r, other[first]));
    for (int row = first; row < ROWS; row++) {
        if (other[row] != other[first]) continue;
        fputs(row == first ? ": " : "; ", t);
        say_row(t, r, row, speed(r, other[row]));
    }
    fputc('.', t);
    paragraph_print(&text, out, "Beside it: ", 2);
}

static bool said_before(const int other[ROWS], int row)
{
    for (int i = 0; i < row; i++)
        if (other[i] == other[row]) return true;
    return false;
}

static void print_dry(FILE *out, const sweep_result *r)
{
    const ct_beside *b = &r->beside;
    paragraph text;
    FILE *t;
    if (!b->too_dry || !(t = paragraph_open(&text))) return;
    const double floor = r->view.job->c->house.rh_floor;
    const int decimals = against_decimals(b->rh, floor);
    fprintf(t, "the house settles at %.*f%%, drier than %.*f%% (house.humidity_floor)", decimals,
            100 * b->rh, decimals, 100 * floor);
    if (b->less_dry >= 0) {
        fputs("; not at ", t);
        pick_text_speed(t, r, speed(r, b->less_dry));
    }
    fputc('.', t);
    paragraph_print(&text, out, "Advice: ", 2);
}

void beside_print(FILE *out, const sweep_result *r, const ct_point *pick)
{
    const ct_beside *b = &r->beside;
    const int other[ROWS] = {b->driest, b->cheapest, b->reserve, b->faster};
    if (!pick) return;
    print_dry(out, r);
    outlook_print_close(out, &r->outlook, 0, r->metric);
    for (int i = 0; i < ROWS && r->full && !r->quiet; i++)
        if (other[i] >= 0 && other[i] != r->view.pick->index && !said_before(other, i))
            print_other(out, r, other, i);
}

/* ---- JSON ------------------------------------------------------------------------ */

static bool put_speed(json_t *o, const sweep_result *r, const char *name, int i)
{
    if (i < 0) return true;
    const double power = ct_beside_power(r->view.job, speed(r, i));
    json_t *one = open_object(o, name);
    return one && put_integer(one, "index", i) &&
           put_value(one, "energy_per_hour_of_load_wh", Q_PLAIN, power, r->metric);
}

bool beside_put(json_t *o, const sweep_result *r)
{
    const ct_beside *b = &r->beside;
    json_t *beside;
    if (!outlook_put_close(o, &r->outlook, r->metric) || !put_bool(o, "too_dry", b->too_dry))
        return false;
    beside = open_object(o, "beside");
    return beside && put_speed(beside, r, "driest", b->driest) &&
           put_speed(beside, r, "cheapest", b->cheapest) &&
           put_speed(beside, r, "reserve", b->reserve) &&
           put_speed(beside, r, "faster_and_dry", b->faster);
}
