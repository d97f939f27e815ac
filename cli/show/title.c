#include "show/title.h"

#include "base/paragraph.h"
#include "fluid/air.h"
#include "show/limit_words.h"
#include "show/low_stage_words.h"

void title_print(FILE *out, const job *j)
{
    const ct_case *c = j->c;
    if (c->job.title[0]) paragraph_wrap(out, c->job.title, "", 2);
    fprintf(out, "%s, %.3g ton %soutdoor unit", ct_refrigerant_name(j->refrigerant),
            c->outdoor.tons, low_stage_kind(c));
}

void title_print_unit(FILE *out, const ct_indoor_unit *unit)
{
    if (job_unit_is_named(unit)) fprintf(out, "; indoor: %s", unit->name);
    fputc('\n', out);
}

void title_print_weather(FILE *out, double T_out, const ct_air *indoor, bool metric)
{
    char T[SHOWN_SIZE], in[SHOWN_SIZE];
    fprintf(out, "Outdoors %s; return air %s, %.0f%% RH\n", shown(T, Q_TEMPERATURE, T_out, metric),
            shown(in, Q_TEMPERATURE, indoor->T, metric), 100 * ct_air_rh(indoor));
}
