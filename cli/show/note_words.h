/* Notes in words: one plain sentence for each place where a figure leans on more than the data
 * behind it (judge/notes.h), and a token for programs. */
#ifndef CLI_SHOW_NOTE_WORDS_H
#define CLI_SHOW_NOTE_WORDS_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "judge/notes.h"
#include "show/quantity.h"

/* Of one note: a bit below 1 << CT_NOTE_COUNT. */
const char *note_token(unsigned note);

/* A sentence with its dot. */
void note_explain(FILE *out, unsigned note, bool metric);

/* The range of some data: "0.043 to 0.067 in"; "up to 0.067 in" when low is 0. */
void note_range(FILE *out, quantity q, double low, double high, bool metric);

/* Each note of the bits as a wrapped line behind `first`. */
void notes_print(FILE *out, unsigned notes, const char *first, bool metric);

/* Array "notes" of tokens and sentences, empty for an ordinary point. */
bool put_notes(json_t *object, unsigned notes, bool metric);

#endif
