/* Sweep report: what the terminal shows. A table of the blower's taps, or of some airflows when
 * they are not known; the pick and why not lower; what is advised; what was assumed. */
#ifndef CLI_SWEEP_TEXT_H
#define CLI_SWEEP_TEXT_H

#include <stdio.h>

#include "sweep/facts.h"

void sweep_text_print(FILE *out, const sweep_result *r);

#endif
