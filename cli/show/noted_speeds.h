/* Notes of the speeds of a sweep: what each says, and which speeds it is about. */
#ifndef CLI_SHOW_NOTED_SPEEDS_H
#define CLI_SHOW_NOTED_SPEEDS_H

#include <stdbool.h>
#include <stdio.h>

#include "judge/pick.h"

/* Borrowed. */
typedef struct {
    const ct_sweep_job *job;
    const ct_sweep *sweep;
    const ct_pick *pick;
} noted_speeds;

/* The notes of `which` (ct_note bits) among the speeds the pick is made from, a paragraph each. */
void noted_speeds_print(FILE *out, const noted_speeds *, unsigned which, bool metric);

/* Those of the pick alone; where no speed passes, what is wrong with the metering device. */
void noted_speeds_print_answer(FILE *out, const noted_speeds *, bool metric);
unsigned noted_speeds_answer(const noted_speeds *);

/* Behind a speed in a table: " *" too little superheat, now or on a hotter day, " ~" too much;
 * "" for neither. And what the marks of a table, whose rows have these notes, say; `where` has
 * more. */
const char *note_mark(unsigned notes);
void note_marks_explain(FILE *out, unsigned notes, const char *where);

#endif
