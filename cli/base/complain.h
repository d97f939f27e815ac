/* Messages to the user, on standard error, each on a line of its own after the program's name. */
#ifndef CLI_BASE_COMPLAIN_H
#define CLI_BASE_COMPLAIN_H

#include <stdbool.h>

#include "base/exit_codes.h"
#include "base/status.h"

/* One line whatever is quoted back, which may come from a file: line ends come out as blanks,
 * control characters, those that turn the direction of writing, and bytes that are not UTF-8 as
 * '?'. */
void complain(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* Memory failed where a part of an answer was made: says so, once, and no result is written any
 * more. From any thread. */
void complain_incomplete(void);
bool complain_is_incomplete(void);

/* For a part the answer can do without where it cannot be had: is it CT_OK? Memory that failed is
 * no such reason, and makes the answer incomplete. */
bool complain_had(ct_status status);

/* Says what is wrong and returns the exit code for its kind. */
exit_code complain_fault(const ct_fault *fault);

exit_code exit_code_of(ct_status status);

#endif
