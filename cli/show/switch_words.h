/* Switches in words: 'set the switches so', each with the humidity it makes. */
#ifndef CLI_SHOW_SWITCH_WORDS_H
#define CLI_SHOW_SWITCH_WORDS_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "judge/sweep_job.h"
#include "study/switches.h"

/* Sentences, each ended. */
void switches_explain(FILE *out, const ct_switches *, const ct_case *, bool metric);

/* The blower's controls are set to more than the usual run-on: worth a line on a screenful. */
bool switches_are_set(const ct_case *);

/* One line at a point of the sweep: how the controls are set, where the house settles so, and with
 * other settings. Nothing where the house settles nowhere. */
void switches_print(FILE *out, const ct_switches *, const ct_sweep_job *, const ct_point *,
                    bool metric);

/* The same for a season, whose every hour has them: how they are set. Nothing for a plain AUTO. */
void switches_print_setting(FILE *out, const ct_case *);

/* "fan_control" of a season: how the controls are set. */
bool switches_put_setting(json_t *object, const ct_case *, bool si);

/* "fan_control": the same for programs. */
bool switches_put(json_t *object, const ct_switches *, const ct_sweep_job *, const ct_point *,
                  bool si);

#endif
