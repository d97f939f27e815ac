/* Findings of a visit, for the terminal: what is likely wrong, first of all; signs a technician
 * knows, superheat against the valve's setting, readings that cannot be. */
#ifndef CLI_TUNE_FINDINGS_H
#define CLI_TUNE_FINDINGS_H

#include <stdio.h>

#include "tune/result.h"

/* Bytes that hold the sentences below: of an explanation; of what tells look-alikes apart, of a
 * valve, of signs. */
enum { TUNE_CAUSE_SIZE = 320, TUNE_WORDS_SIZE = 480 };

void tune_findings_print(FILE *out, const tune_result *r, bool metric);
void tune_impossible_print(FILE *out, const tune_result *r, bool metric);

/* Both gauges alike and not exchanged: the compressor; "" otherwise. */
const char *tune_stopped_words(const ct_tune *);

/* Of readings that cannot all be true: how many instruments, of the first explanations, are named;
 * two that may be exchanged, false for none. */
int tune_suspects_reported(const ct_tune *);
bool tune_swap_words(char *text, size_t size, const ct_tune *);

/* Whether that is likelier than all those instruments, or how likely they are is not known. */
bool tune_swap_leads(const ct_tune *);

/* An explanation as a sentence a technician can act on. */
void tune_explanation_words(char *text, size_t size, const tune_result *r,
                            const ct_tune_explanation *e, bool metric);

/* The first two explanations look alike: what tells which it is. */
void tune_alike_words(char *text, size_t size, const ct_tune *t);

/* Of those, whether one is told: nothing is said of the coil while the charge is in doubt. */
bool tune_explanation_told(const ct_tune *, int i);

/* The first that is told, -1 for none. */
int tune_first_told(const ct_tune *);

/* What superheat and subcooling say where no single cause explains the readings; "" for nothing. */
const char *tune_sign_words(const ct_tune *);

/* Another tap is the likeliest: where to look; "" when it is not. */
const char *tune_tap_words(const ct_tune *t);

/* Of which tap the airflow is, its multiplier and the heat by it, where it is not the one given;
 * false where it is. */
bool tune_airflow_words(char *text, size_t size, const tune_result *r);

/* "likeliest first", or what is put before that. */
const char *tune_order_words(const ct_tune *t);

/* The charge comes first: of what nothing is said until then. */
const char *tune_charge_words(const ct_tune *);

/* A valve that does not hold its superheat; false when it does. */
bool tune_valve_words(char *text, size_t size, const ct_tune *t, bool metric);

/* Never "-0" or "-0.0" when printed with so many decimals. */
double tune_without_minus(double v, int decimals);

/* False: the readings took next to no doubt away. */
bool tune_learned_anything(const ct_tune *);

/* Explanations that are reported: how many of the first. */
int tune_explanations_reported(const ct_tune *t);

#endif
