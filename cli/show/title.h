/* Title: the lines a report begins with. */
#ifndef CLI_SHOW_TITLE_H
#define CLI_SHOW_TITLE_H

#include <stdbool.h>
#include <stdio.h>

#include "base/job.h"

/* The job's title and, without the end of the line, "R-22, 3 ton two-stage outdoor unit". */
void title_print(FILE *out, const job *);

/* The rest of the line: "; indoor: NAME", where the unit has a name. */
void title_print_unit(FILE *out, const ct_indoor_unit *);

/* "Outdoors 95.0 F; return air 75.0 F, 50% RH", a line. */
void title_print_weather(FILE *out, double T_out, const ct_air *indoor, bool metric);

#endif
