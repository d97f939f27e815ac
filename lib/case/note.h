/* Note: puts faults and assumptions into the report of a file. Internal.
 *
 * A number that could not be read is NaN meanwhile, so that a comparison with it is false and adds
 * no second fault. */
#ifndef CT_CASE_NOTE_H
#define CT_CASE_NOTE_H

#include "base/status.h"
#include "case/report.h"

/* Sets every part of one fault; `given` is cut and freed of control characters. */
void ct_note_set(ct_case_fault *, ct_case_fault_kind, int line, const char *key, const char *given,
                 const char *format, ...) __attribute__((format(printf, 6, 7)));

/* Adds a fault; past CT_MAX_CASE_FAULTS it is only counted. */
void ct_note_fault(ct_case_report *, ct_case_fault_kind, int line, const char *key,
                   const char *given, const char *format, ...)
    __attribute__((format(printf, 6, 7)));

void ct_note_assumption(ct_case_report *, const char *key, double v, const char *text,
                        const char *why);

/* Past CT_MAX_SET_ASIDE it is left out. */
void ct_note_set_aside(ct_case_report *, const char *key, const char *given, const char *pair);

/* Faults in the order of their lines. */
void ct_note_sort(ct_case_report *);

/* CT_INPUT, with the first fault as the story. */
ct_status ct_note_summary(const ct_case_report *, ct_fault *);

#endif
