/* The files a run reads: none of them may be the file it writes. Compared by device and inode, so
 * that another spelling, a link or a second name is found out too. */
#ifndef CLI_BASE_INPUTS_H
#define CLI_BASE_INPUTS_H

#include <stdbool.h>
#include <sys/stat.h>

#include "base/exit_codes.h"
#include "base/options.h"

/* What is no file is left out. False: out of memory, the message is out. */
bool inputs_note(const char *path);

bool inputs_has(const struct stat *there);

/* The same for a name; what is not there is no input. */
bool inputs_has_path(const char *path);

/* Notes every input on the command line and refuses an output that is one of them, before anything
 * is computed. EXIT_USAGE: the message is out. */
exit_code inputs_check(const verb *v, const arguments *args);

void inputs_forget(void);

#endif
