/* Dialog: asks the questions on the terminal and fills the pairs with the answers.
 *
 * One line each, with the usual answer in brackets. Nothing is taken that the reader of cases would
 * refuse. */
#ifndef CLI_NEW_DIALOG_H
#define CLI_NEW_DIALOG_H

#include <stdio.h>

#include "base/options.h"
#include "new/prompt.h"

typedef enum { DIALOG_DONE, DIALOG_QUIT } dialog_end;

/* From question d->at on. `given` holds pairs that need no question. */
dialog_end dialog_run(dialog *, const arguments *given);

/* Next is the question about `key` or what it is part of; the first when none is. A table of taps
 * with a fault in it is forgotten: Enter must not keep it. */
void dialog_go_to(dialog *, const char *key);

/* The pairs given and the answers, as one command line. */
void dialog_pairs(const dialog *, const arguments *given, arguments *out);

#endif
