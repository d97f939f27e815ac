/* Answer: the end of a small verb. A title and groups of facts become a table for people, or JSON
 * for programs with --json; on standard output, or whole into the file of --output. */
#ifndef CLI_SHOW_ANSWER_H
#define CLI_SHOW_ANSWER_H

#include "base/exit_codes.h"
#include "show/quantity.h"

typedef struct {
    const char *name;    /* key in JSON; NULL puts the facts at the top */
    const char *heading; /* line above the table's rows */
    const char *basis;   /* line below the rows and "basis" in JSON, NULL for none */
    const char *warning; /* line below that and "warning" in JSON, NULL for none */
    const fact *facts;
    int n;
} fact_group;

typedef struct {
    const char *name, *text;
} text_fact;

typedef struct {
    const char *title;
    const text_fact *texts; /* shown as "name: text" and as pairs in JSON */
    int n_texts;
    const fact_group *groups;
    int n_groups;
} answer;

exit_code answer_write(const answer *a, bool json, bool metric, const char *path);

#endif
