#include "whatif/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/paragraph.h"
#include "show/noted_speeds.h"
#include "show/title.h"
#include "show/tuned_words.h"
#include "show/ways_words.h"

enum { ROWS_WITHOUT_TAPS = 8 };

static void print_reach(const whatif_result *r, int i)
{
    const ct_reach *reach = &r->reach[i];
    char name[SHOWN_SIZE], load[SHOWN_SIZE], T[SHOWN_SIZE];
    printf("  %-16s %14s  %s\n", whatif_speed_name(r, i, name),
           whatif_speed(r, i)->status == CT_OK ? shown(load, Q_HEAT, reach->Q_load_max, r->si)
                                               : "none",
           reach->hot_status == CT_OK ? shown(T, Q_TEMPERATURE, reach->T_hottest, r->si) : "-");
}

/* Taps all; of the airflows of a sweep a few, and the pick. */
static void print_reaches(const whatif_result *r)
{
    const int n = whatif_n_speeds(r);
    const int rows = r->w->from_taps || n < ROWS_WITHOUT_TAPS ? n : ROWS_WITHOUT_TAPS;
    const char *told = "";
    for (int i = 0, k = 0; i < n; i++) {
        const bool row = i == (rows > 1 ? k * (n - 1) / (rows - 1) : 0);
        if (row || i == r->w->pick) print_reach(r, i);
        k += row;
    }
    for (int i = 0; i < n; i++) {
        if (r->reach[i].why[0] && strcmp(r->reach[i].why, told) != 0)
            paragraph_wrap_text(stdout, "  (-: ", 6, "%s)", r->reach[i].why);
        if (r->reach[i].why[0]) told = r->reach[i].why;
    }
}

static void print_end(const char *direction, double sigmas)
{
    printf("      %s: there is no such case past %.1f times the doubt\n", direction, sigmas);
}

static void print_tipping(const whatif_result *r, const ct_tipping *t)
{
    const quantity q = quantity_of_kind(ct_vary_unit(t->input));
    char name[SHOWN_SIZE], size[SHOWN_SIZE], sigma[SHOWN_SIZE];
    printf("  %-21s%-13s", ct_vary_name(t->input), shown(sigma, q, t->sigma, r->si));
    if (t->changes)
        printf("%c%-14s%-17.1f%s\n", t->change < 0 ? '-' : '+',
               shown(size, q, fabs(t->change), r->si), t->sigmas,
               whatif_speed_name(r, t->to, name));
    else
        printf("none within %.2g times the doubt\n",
               t->cut ? fmin(t->up, t->down) : CT_WHATIF_REACH);
    if (t->cut)
        printf(
            "      looked at only from %.1f to +%.1f: too many airflows; set fewer sweep.points\n",
            -t->down, t->up);
    if (t->ends_up) print_end("up", t->up);
    if (t->ends_down) print_end("down", t->down);
}

void whatif_text_print(const whatif_result *r)
{
    const noted_speeds noted = {r->outlook.job, r->outlook.sweep, r->outlook.pick};
    char text[SHOWN_SIZE], load[SHOWN_SIZE];
    verdict_print(stdout, &r->verdict, 0);
    title_print(stdout, r->j);
    title_print_unit(stdout, r->j->sweep.unit);
    printf("Design sensible load %s, outdoors %s\n",
           shown(load, Q_HEAT, r->j->c->house.Q_sensible, r->si),
           shown(text, Q_TEMPERATURE, r->j->c->site.T_outdoor, r->si));
    tuned_print(stdout, &r->j->c->tuning);
    ways_print_short(stdout, r->j->c, &r->j->ways, r->si);
    printf("\n  %-16s %14s  hottest day it can cool\n", "speed", "largest load");
    print_reaches(r);
    if (*limit_largest_load_words(&r->j->c->house))
        paragraph_wrap_text(stdout, "  (", 3, "%s)", limit_largest_load_words(&r->j->c->house));
    printf("\nWhat would change the answer first. The pick is: %s\n\n"
           "  %-21s%-13s%-15s%-17s%s\n",
           whatif_speed_name(r, r->w->pick, text), "input", "usual doubt", "change needed",
           "times the doubt", "new pick");
    for (int i = 0; i < r->w->n; i++)
        print_tipping(r, &r->w->tipping[i]);
    fputs("\nEach input alone, all others as written; load: the sensible and the latent one.\n"
          "Usual doubt: section uncertainty of the case.\n",
          stdout);
    outlook_print(stdout, &r->outlook, 0, r->si);
    noted_speeds_print_answer(stdout, &noted, r->si);
    verdict_print_findings(stdout, &r->verdict, 0);
}
