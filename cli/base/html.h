/* HTML: the one door through which text reaches a page.
 *
 * Everything that is not our own markup goes through here: names from a job file are data, whatever
 * they contain. What HTML reads as markup is spelled out, back quotes too; control characters
 * become blanks, so do those that reverse the direction of writing; bytes that are not UTF-8 become
 * the replacement character. What was written in the file is what a reader sees, and never runs. */
#ifndef CLI_BASE_HTML_H
#define CLI_BASE_HTML_H

#include <stdio.h>

/* Escaped for text and for quoted attributes alike. */
void html_text(FILE *out, const char *text);

/* Formats as printf and escapes the whole result, cut at 4000 bytes. */
void html_say(FILE *out, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* <tag>text</tag>, or <tag class="name">text</tag>; tag and class name are ours and literal. */
void html_element(FILE *out, const char *tag, const char *class_name, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* A table whose rows stack up on a narrow page: each cell there carries its column's heading. The
 * first column of every row is its heading. Captions and headings are escaped like all text. */
enum { HTML_COLUMNS = 10 };
typedef struct {
    FILE *out;
    int n_columns, column;
    const char *heading[HTML_COLUMNS]; /* borrowed */
} html_table;

void html_table_begin(html_table *t, FILE *out, const char *class_name, const char *caption, int n,
                      const char *const *headings);
void html_cell(html_table *t, const char *format, ...) __attribute__((format(printf, 2, 3)));
void html_row_end(html_table *t); /* fills what is missing with empty cells */
void html_table_end(html_table *t);

#endif
