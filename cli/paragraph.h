/* Paragraphs: text wrapped to a terminal of 80 columns, counted in characters, not bytes. */
#ifndef PARAGRAPH_H
#define PARAGRAPH_H

#include <stdio.h>

/* Prints `first`, then the words of `text`, further lines indented. */
void wrap(FILE *out, const char *text, const char *first, int indent);

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
