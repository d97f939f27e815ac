/* Prompt: what a dialog has been told so far, and the next line of it. */
#ifndef CLI_NEW_PROMPT_H
#define CLI_NEW_PROMPT_H

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

/* A line without its end and without blanks around it. False: the input is over. */
bool prompt_line(dialog *, const char *prompt, char line[ANSWER_SIZE]);

/* Whether a line is one of the words, a list that ends with NULL; or the words to go back, to
 * quit. */
bool prompt_is_word(const char *line, const char *const *words);
bool prompt_is_back(const char *line);
bool prompt_is_quit(const char *line);

#endif
