/* The pick in sentences: which speed and why not the next slower; or what fails at every speed and
 * what would fix it; then advice, the hottest day and the load each speed carries. Part of the
 * sweep report (sweep/text.h). */
#ifndef CLI_SWEEP_PICK_TEXT_H
#define CLI_SWEEP_PICK_TEXT_H

#include <stdio.h>

#include "sweep/facts.h"

/* "medium, 1,210 cfm (403 cfm/ton)" */
void pick_text_speed(FILE *out, const sweep_result *r, const ct_point *p);

void pick_text_pick(FILE *out, const sweep_result *r, const ct_point *pick);
void pick_text_none(FILE *out, const sweep_result *r);
void pick_text_failures(FILE *out, const sweep_result *r);
void pick_text_advice(FILE *out, const sweep_result *r, const ct_point *pick);
void pick_text_hottest(FILE *out, const sweep_result *r);
void pick_text_loads(FILE *out, const sweep_result *r);

#endif
