/* Answer: from the text of a case to the pick as JSON, in one call, for other languages. Public.
 *
 * Give it the text of a case file; it gives an object in JSON (RFC 8259, plain ASCII, SI units):
 *   coiltrim  the version
 *   status    "done", "wrong_input", "outside_model" or "no_balance"
 *   why       what is wrong, when it is not "done"
 *   faults    of the text: line, key, given, what
 *   assumed   what the text leaves out: key, value, why
 *   fits      false when the new unit must not go on the old one, left out when that is not known;
 *             findings: check, and whether it refuses the unit
 *   pick      found, among ("taps" or "points"), index; next_lower: index and the limit that fails
 *             there; fails_on: for each limit at how many speeds it fails; fixes
 *   low_stage  of a unit with two: found, and pick, its speed as one of taps or points
 *   taps, points  each speed with its numbers and limits
 * Names and numbers are those of `coiltrim sweep --json --si`, of which this is a part; value,
 * bound and slack of a limit have no unit in their name. What is absent is left out. */
#ifndef CT_STUDY_ANSWER_JSON_H
#define CT_STUDY_ANSWER_JSON_H

#include <stddef.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The answer for the indoor unit of the case. *json is a text to be given to ct_answer_free; it
 * is there for a wrong case too, with its faults. CT_OK: done, whether or not a speed passes.
 * CT_INPUT, CT_RANGE, CT_NO_ROOT, CT_NO_CONV: *json says why. CT_SYSTEM: out of memory, and *json
 * is NULL. `text` need not end in a zero; it and json must not be NULL. Calls on several threads do
 * not disturb each other. For host programs, as is the next. */
CT_API ct_status ct_answer_json(const char *text, size_t size, char **json, ct_fault *);

/* NULL is allowed. For host programs. */
CT_API void ct_answer_free(char *json);

#ifdef __cplusplus
}
#endif
#endif
