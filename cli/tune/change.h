/* Two visits to one system, for the terminal: did the fix work, what changed, what is still
 * wrong. */
#ifndef CLI_TUNE_CHANGE_H
#define CLI_TUNE_CHANGE_H

#include <stdio.h>

#include "tune/result.h"

void tune_change_print(FILE *out, const tune_result *before, const tune_result *after, bool metric);

#endif
