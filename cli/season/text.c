#include "season/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/paragraph.h"
#include "show/cells.h"
#include "show/heating_words.h"
#include "show/low_stage_words.h"
#include "show/noted_speeds.h"
#include "show/switch_words.h"
#include "show/tap_words.h"

/* ---- What the weather is --------------------------------------------------------- */

static void print_weather(const season_result *r)
{
    const ct_weather *w = &r->weather;
    double hours = 0;
    for (int i = 0; i < w->n; i++)
        hours += w->hour[i].hours;
    if (!r->path)
        paragraph_wrap_text(
            stdout, "Outdoors: ", 10,
            "the %d temperature bins of the rating procedure, %.0f h: as many as %.0f h at "
            "the whole design load%s",
            w->n, hours, r->j->c->season.load_hours,
            season_knows_humidity(r) ? "; moisture as at the design condition" : "");
    else
        paragraph_wrap_text(stdout, "Outdoors: ", 10, "%s%s%s: %.0f h%s", r->path,
                            *w->place ? ", " : "", w->place, hours,
                            w->hourly ? ", one after the other" : " in bins");
}

enum { NAME_WIDTH = 15 };

/* ---- Table ----------------------------------------------------------------------- */

static void print_speed(const season_result *r, int i)
{
    const season_speed *s = &r->speed[i];
    const ct_season_total *t = &s->total;
    const bool humidity = season_knows_humidity(r);
    printf("%c ", i == r->picked ? '*' : ' ');
    cell_left(stdout, NAME_WIDTH, s->name);
    if (s->status != CT_OK) {
        puts("  no season, see below");
        return;
    }
    cell_number(stdout, 7, 0, t->run);
    cell_number(stdout, 7, 0, t->energy / J_PER_KWH);
    cell_number(stdout, 8, 2, season_cost(r, s));
    cell_number(stdout, 6, 0, t->hours_short);
    for (int k = 0; k < CT_SEASON_LEVELS; k++)
        cell_number(stdout, 6, 0, humidity ? t->above[k] : (double)NAN);
    cell_number(stdout, 6, 1, humidity ? 100 * t->rh_mean : (double)NAN);
    cell_number(stdout, 7, 2, cell_value(Q_EER, true, season_efficiency(s), r->si));
    putchar('\n');
}

static void print_table(const season_result *r)
{
    printf("\n%-17s%7s%7s%8s%6s   hours above, %% RH     mean season's\n", "", "runs", "uses",
           "costs", "short");
    printf("  %-15s%7s%7s%8.8s%6s%6s%6s%6s%6s%6s%7s\n", "speed", "h", "kWh",
           *r->j->c->job.currency ? r->j->c->job.currency : "", "h", "50", "55", "60", "65", "RH %",
           quantity_for_people(Q_EER, r->si)->unit);
    for (int i = 0; i < r->n; i++)
        print_speed(r, i);
    for (int i = 0; i < r->n; i++)
        if (r->speed[i].status != CT_OK)
            paragraph_wrap_text(stdout, "  ", 4, "%s: %s", r->speed[i].name, r->speed[i].why);
}

/* ---- What it rests on ------------------------------------------------------------ */

static const season_speed *first_good(const season_result *r)
{
    return r->drawn[0] >= 0 ? &r->speed[r->drawn[0]] : NULL;
}

static void print_meaning(const season_result *r)
{
    const season_speed *s = first_good(r);
    putchar('\n');
    if (r->picked >= 0)
        paragraph_wrap(stdout, "* the speed coiltrim sweep picks for this job", "", 2);
    paragraph_wrap(
        stdout,
        "short: hours in which the speed does not carry the sensible load of that hour, without "
        "margin.",
        "", 2);
    if (!s) return;
    if (!season_knows_humidity(r))
        paragraph_wrap_text(
            stdout, "", 2,
            "No RH: it needs house.infiltration, the outdoor air leaking in (such as 60 cfm), with "
            "its part taken out of latent_load%s. Each speed runs in the air the sweep has the "
            "house settle at with it.",
            r->j->c->site.rh_outdoor.has ? "" : ", and site.outdoor_humidity");
    else if (r->weather.hourly)
        paragraph_wrap_text(
            stdout, "", 2,
            "RH counts in the %.0f h of days that need cooling at all; on the others windows "
            "are open or the house is heated.",
            s->total.counted);
    else
        paragraph_wrap_text(
            stdout, "", 2,
            "RH counts in the %.0f h that need cooling, each bin where the house settles in "
            "it. The hours between need an hourly file: --weather.",
            s->total.counted);
}

/* The ceiling is judged at one hour; a season has hours of less load, in which the coil runs
 * less. */
static void print_ceiling(const season_result *r)
{
    static const double level[CT_SEASON_LEVELS] = CT_SEASON_RH;
    const ct_house *h = &r->j->c->house;
    const season_speed *s = r->picked >= 0 ? &r->speed[r->picked] : NULL;
    int k = 0;
    if (!s || s->status != CT_OK || !h->rh_ceiling.has || !season_knows_humidity(r)) return;
    if (s->point->limit[CT_LIMIT_HUMIDITY].verdict != CT_PASSES) return;
    while (k < CT_SEASON_LEVELS && level[k] < h->rh_ceiling.v)
        k++;
    if (k == CT_SEASON_LEVELS || !(s->total.above[k] >= 0.5)) return; /* shown as 0 */
    paragraph_wrap_text(
        stdout, "", 2,
        "Humidity ceiling, %.0f%%: %s%s passes it and yet has %.0f h above %.0f%%. It is judged "
        "where the load is %.0f%% of the design day's, at %.0f%% RH; in hours of less load the "
        "system runs less and takes less water out.",
        100 * h->rh_ceiling.v, s->point->tap >= 0 ? tap_prefix(s->name) : "", s->name,
        s->total.above[k], 100 * level[k], 100 * h->humidity_load,
        100 * s->point->limit[CT_LIMIT_HUMIDITY].value);
}

/* How much of it the high stage takes; the low one is the same at every speed. */
static void print_low_stage(const season_result *r)
{
    const season_speed *s = r->picked >= 0 ? &r->speed[r->picked] : first_good(r);
    if (!r->j->c->outdoor.low.has) return;
    low_stage_print(stdout, &r->sweep, r->si);
    if (r->sweep.has_low && s && s->status == CT_OK)
        paragraph_wrap_text(
            stdout, "", 2,
            "The speeds above are those of the high stage; the low one runs first, and at %s%s "
            "the high stage runs %.0f of the %.0f h.",
            s->point->tap >= 0 ? tap_prefix(s->name) : "", s->name, s->total.run_high,
            s->total.run);
}

static void print_assumed(const season_result *r)
{
    const ct_case *c = r->j->c;
    const bool humidity = season_knows_humidity(r);
    char T[SHOWN_SIZE], area[32], Q[SHOWN_SIZE];
    shown(T, Q_TEMPERATURE, r->house.T_no_load, r->si);
    shown(Q, Q_HEAT, r->house.room.Q_latent, r->si);
    snprintf(area, sizeof area, r->si ? "%.0f m2" : "%.0f ft2",
             ct_season_floor(c) / (r->si ? 1.0 : CT_M_PER_FT * CT_M_PER_FT));
    paragraph_wrap_text(
        stdout, "", 2,
        "Taken: load in a straight line from none at %s outdoors%s, the sun in it; the room "
        "always at its set temperature; %s%s%scycling loss as the rating counts it, %.2f.",
        T, c->house.T_balance.has ? "" : " (assumed)", humidity ? "moisture of the household " : "",
        humidity ? Q : "", humidity ? " every hour; " : "", r->house.CD);
    if (!r->weather.hourly) return;
    paragraph_wrap_text(stdout, "", 2,
                        "The house holds water like %.3g times its air (floor area %s%s).",
                        c->season.storage, area,
                        c->season.A_floor.has || c->house.ways.floor_area.has ? "" : ", assumed");
}

static void print_doubts(const season_result *r)
{
    const season_speed *s = first_good(r);
    if (s && s->total.held > 0)
        paragraph_wrap_text(
            stdout, "Note: ", 2,
            "%.0f h are outside the outdoor temperatures at which the equipment balances; it "
            "is taken as at the nearest one that does.",
            s->total.held);
    if (s && s->total.saturated > 0)
        paragraph_wrap_text(
            stdout, "Note: ", 2,
            "in %.0f h the house would be in fog: check latent_load, season.latent_load and "
            "infiltration.",
            s->total.saturated);
    if (!r->j->c->season.price.has)
        paragraph_wrap(stdout, "For the cost give the price of a kWh: season.price=0.15", "", 2);
}

static void print_count(const season_result *r)
{
    int balances = 0, good = 0;
    for (int i = 0; i < r->n; i++) {
        balances += r->speed[i].balances;
        good += r->speed[i].status == CT_OK;
    }
    printf("%d speeds, %d balances tabulated, %d %s worked out\n", r->n, balances,
           good * r->weather.n, r->weather.hourly ? "hours" : "bins");
}

/* Else the table would read as a choice. */
static void print_none_passes(const season_result *r)
{
    if (r->pick.found || verdict_refuses(&r->verdict)) return;
    paragraph_wrap_text(stdout, "", 2,
                        "No %s passes on the design day: coiltrim sweep says why, and what would "
                        "fix it.",
                        r->pick.from_taps ? "blower speed" : "airflow");
}

void season_text_print(const season_result *r)
{
    const noted_speeds noted = {&r->sweep, r->swept, &r->pick};
    verdict_print(stdout, &r->verdict, 0);
    const char *title = r->j->c->job.title;
    paragraph_wrap_text(stdout, "", 2, "Season at each speed%s%s", title[0] ? ": " : "", title);
    print_weather(r);
    print_none_passes(r);
    print_table(r);
    print_meaning(r);
    print_ceiling(r);
    print_low_stage(r);
    print_assumed(r);
    switches_print_setting(stdout, r->j->c);
    noted_speeds_print_answer(stdout, &noted, r->si);
    print_doubts(r);
    print_count(r);
    verdict_print_findings(stdout, &r->verdict, 0);
    heating_print(stdout, &r->sweep, 0, r->si);
}
