/* Gauge log: readings that a digital gauge or a logger wrote down over time, as a table.
 *
 * A CSV file (RFC 4180) with the header name,value,unit,time in any order, and a row for each
 * value: the name is a key of a readings file (suction.pressure), the unit one of its units, the
 * time seconds (120) or a clock (14:05:30). The longest stretch of at least 5 minutes in which
 * nothing drifts by more than its instrument's usual margin is averaged. The doubt of each mean is
 * that margin and the scatter of the values over the square root of the minutes (samples closer
 * than a minute are hardly independent: judgment, no source), root of squares. What has no time, or
 * less than five values, was read by hand: it is taken as it is, or its mean. Public. */
#ifndef CT_CASE_GAUGE_LOG_H
#define CT_CASE_GAUGE_LOG_H

#include "case/readings.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_GAUGE_LOG_BYTES ((size_t)16 * 1024 * 1024) /* largest log taken */
#define CT_GAUGE_LOG_STEADY 300.0                     /* s, shortest stretch */

typedef struct {
    int rows;        /* of values */
    double from, to; /* s, the steady stretch, counted from the first row with a time; both 0 where
                        nothing was logged over time */
} ct_gauge_log;

/* Does this text begin as such a table does? */
CT_API bool ct_gauge_log_is(const char *text, size_t size);

/* As ct_readings_parse; CT_INPUT, too, where no stretch is steady. */
CT_API ct_status ct_gauge_log_parse(const char *text, size_t size, ct_readings *out,
                                    ct_gauge_log *log, ct_case_report *report, ct_fault *fault);

#ifdef __cplusplus
}
#endif
#endif
