/* Verdict: whether an indoor unit may go on the outdoor unit at all, in words, the same in every
 * verb. A unit that must not be installed is the first line of the answer; what is not known is put
 * as a question, and does not refuse. */
#ifndef CLI_SHOW_VERDICT_H
#define CLI_SHOW_VERDICT_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "base/exit_codes.h"
#include "judge/compatibility.h"
#include "judge/pick.h"

typedef struct {
    const ct_case *c;
    const ct_refrigerant *refrigerant;
    const ct_indoor_unit *unit;
    bool has_checks;
    ct_checks checks;
    bool metric;
} verdict;

verdict verdict_of(const ct_case *, const ct_refrigerant *, const ct_indoor_unit *, bool metric);

bool verdict_refuses(const verdict *);

/* "DO NOT INSTALL, does not fit: NAME: why", a paragraph for each reason; nothing for a unit that
 * is not refused. `letter` is that of the unit where there are several, 0 for none. */
void verdict_print(FILE *out, const verdict *, char letter);

/* The questions, reminders and cautions, a paragraph for each. */
void verdict_print_findings(FILE *out, const verdict *, char letter);

/* The first question about odd input, if any. */
void verdict_print_first_odd(FILE *out, const verdict *);

/* The token of an odd input (judge/oddities.h), a bit below 1 << CT_ODD_COUNT. */
const char *verdict_odd_token(int bit);

/* One question about odd input, by its bit in judge/oddities.h, without a dot; false: not asked. */
bool verdict_odd(FILE *out, const verdict *, int bit);

/* "fits" and "findings", each with check, kind, refuses and text. */
bool verdict_put(json_t *object, const verdict *);

/* The questions, reminders and cautions as texts, "Question: why.". */
bool verdict_put_remarks(json_t *list, const verdict *);

/* The exit code of an answer: `told` when something went wrong on the way, else 10 when it is
 * no. */
exit_code verdict_exit_code(exit_code told, bool yes);

#endif
