/* Paragraphs: text wrapped to a terminal of 80 columns, counted in characters, not bytes. */
#ifndef CLI_BASE_PARAGRAPH_H
#define CLI_BASE_PARAGRAPH_H

#include <stdio.h>

/* A blank no line is broken at. */
#define TIED '\x1f'

/* Prints `first`, then the words of `text`, further lines indented; ends the last line. */
void paragraph_wrap(FILE *out, const char *text, const char *first, int indent);

/* The same where the cursor is already at `indent`. */
void paragraph_wrap_here(FILE *out, const char *text, int indent);

/* The same for a text made by printf. */
void paragraph_wrap_text(FILE *out, const char *first, int indent, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Collects a paragraph in memory and prints it wrapped, so that sentences can be put together from
 * pieces without counting. */
typedef struct {
    char text[2000];
    FILE *stream;
} paragraph;

/* Write the pieces here; NULL: out of memory. */
FILE *paragraph_open(paragraph *p);
void paragraph_print(paragraph *p, FILE *out, const char *first, int indent);

#endif
