/* Dialog: asks the questions on the terminal and fills the pairs with the answers.
 *
 * One line each, with the usual answer in brackets. Nothing is taken that the reader of cases would
 * refuse. */
#ifndef CLI_NEW_DIALOG_H
#define CLI_NEW_DIALOG_H

#include <stdio.h>

#include "base/options.h"
#include "new/questions.h"

enum { ANSWER_SIZE = 80, TABLE_SIZE = 8000 };

typedef struct {
    FILE *in, *out;
    bool metric;
    char answer[MAX_QUESTIONS][ANSWER_SIZE]; /* "" : left to the usual answer */
    char key[MAX_QUESTIONS][CT_KEY_PATH];    /* what it answers: rated_eer in place of rated_seer */
    char taps[TABLE_SIZE];                   /* the blower's table as typed, "" for none */
    int at;                                  /* the question to be asked next */
} dialog;

typedef enum { DIALOG_DONE, DIALOG_QUIT } dialog_end;

/* A line without its end and without blanks around it. False: the input is over. */
bool dialog_line(dialog *, const char *prompt, char line[ANSWER_SIZE]);

/* From question d->at on. `given` holds pairs that need no question. */
dialog_end dialog_run(dialog *, const arguments *given);

/* The pairs given and the answers, as one command line. */
void dialog_pairs(const dialog *, const arguments *given, arguments *out);

#endif
