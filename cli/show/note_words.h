/* Notes in words: one plain sentence for each place where a figure leans on more than the data
 * behind it (judge/notes.h), and a token for programs. */
#ifndef CLI_SHOW_NOTE_WORDS_H
#define CLI_SHOW_NOTE_WORDS_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "judge/notes.h"
#include "show/quantity.h"

/* Where the size of a piston is, for the notes that ask for another one. */
#define NOTE_SIZE_IN_METERING " (`metering` has the size)"

/* Of one note: a bit below 1 << CT_NOTE_COUNT. */
const char *note_token(unsigned note);

/* A sentence with its dot. */
void note_explain(FILE *out, unsigned note, bool metric);

/* The range of some data: "0.043 to 0.067 in"; "up to 0.067 in" when low is 0. */
void note_range(FILE *out, quantity q, double low, double high, bool metric);

/* Each note of the bits as a wrapped line behind `first`. */
void notes_print(FILE *out, unsigned notes, const char *first, bool metric);

/* The same inside `metering`, which has the size of the piston elsewhere, or none: `size` is as
 * NOTE_SIZE_IN_METERING, or "". */
void notes_print_sized(FILE *out, unsigned notes, const char *size, bool metric);
bool put_notes_sized(json_t *object, unsigned notes, const char *size, bool metric);

/* "Note: why." of each, as texts. */
bool put_note_remarks(json_t *list, unsigned notes, bool metric);

/* Array "notes" of tokens and sentences, empty for an ordinary point. */
bool put_notes(json_t *object, unsigned notes, bool metric);

#endif
