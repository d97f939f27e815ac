/* Explain's pictures: the CSV files and the gnuplot scripts beside them. */
#ifndef EXPLAIN_FILES_H
#define EXPLAIN_FILES_H

#include "case_load.h"
#include "out_folder.h"

/* Writes crossing.gp, psychro.gp and, when the blower and the ducts are known, blower.gp with
 * their CSV files, and draws them. On failure the message is out. gnuplot not being installed is
 * told but is no failure. */
exit_code explain_files(job *j, const out_request *to);

#endif
