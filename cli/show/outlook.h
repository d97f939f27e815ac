/* Outlook: what a technician wants to know next, the same in every verb: how close the call
 * is when a speed passes, what would fix it when none does, and whether the heat has its airflow.
 * Each is worked out once, for words or for JSON. */
#ifndef CLI_SHOW_OUTLOOK_H
#define CLI_SHOW_OUTLOOK_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "judge/pick.h"
#include "study/close_call.h"
#include "study/fixes.h"

typedef struct {
    const ct_sweep_job *job; /* borrowed, as are the next two */
    const ct_sweep *sweep;
    const ct_pick *pick;
    ct_close_call close; /* without taps there is no tie in it, and nothing moves the pick */
    int ample;           /* of a close one among airflows: the first that covers the doubt, or -1 */
    bool drawn;          /* the chances are shown as well, below */
    bool has_fixes;      /* no speed passes, though the unit may be installed */
    ct_fixes fixes;
} outlook;

/* A question without an answer leaves its line out. CT_SYSTEM: memory, the only failure. */
ct_status outlook_find(const ct_setup *, outlook *, ct_fault *);

/* Paragraphs; nothing where there is nothing to say. `letter` is that of the unit where there are
 * several, 0 for none. */
void outlook_print(FILE *out, const outlook *, char letter, bool metric);
void outlook_print_close(FILE *out, const outlook *, char letter, bool metric);
void outlook_print_fixes(FILE *out, const outlook *, char letter, bool metric);

/* The best few, each in a line or two; how many more there are. */
void outlook_print_best_fixes(FILE *out, const outlook *, bool metric);

/* The sentences of a close call alone, each with a blank behind it; nothing when it is none. */
void outlook_explain_close(FILE *out, const outlook *, bool metric);

/* "close_call" and "near_tie" with the limits concerned, or "remedies". */
bool outlook_put_close(json_t *object, const outlook *, bool si);
bool outlook_put_fixes(json_t *object, const outlook *, bool si);

/* All of it, as an object "outlook". */
bool outlook_put(json_t *object, const outlook *, bool si);

#endif
