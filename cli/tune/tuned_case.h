/* Tuned case: the case file as it is with its section `tuned` put in, or put anew. */
#ifndef CLI_TUNE_TUNED_CASE_H
#define CLI_TUNE_TUNED_CASE_H

#include "base/job.h"
#include "study/tune.h"

/* Writes `output`: the text of the case, with the pairs of the command line, without an earlier
 * section `tuned`, then the new one. The text is read back before it is kept. Not EXIT_DONE: the
 * message is out, nothing is written.
 */
exit_code tuned_case_write(const arguments *args, const job *j, const ct_tune *t,
                           const char *output);

#endif
