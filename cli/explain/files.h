/* Explain's pictures: the CSV files and the gnuplot scripts beside them. */
#ifndef CLI_EXPLAIN_FILES_H
#define CLI_EXPLAIN_FILES_H

#include "base/job.h"
#include "base/out_folder.h"

/* Writes crossing.gp, psychro.gp and, when the blower and the ducts are known, blower.gp with
 * their CSV files, and draws them. On failure the message is out. gnuplot not being installed is
 * reported but is no failure. */
exit_code explain_files(job *j, const out_request *to);

#endif
