/* Generate: texts that the installation needs, made from the tables of the program when it is
 * built: the manual page of the case file and the completion of three shells. */
#ifndef PACKAGING_GENERATE_H
#define PACKAGING_GENERATE_H

#include <stdio.h>

#include "case/key_row.h"
#include "verbs.h"

/* coiltrim-case(5), of the day "2026-11-26"; its example is the first case in the file `readme`.
 * False: that cannot be read. */
bool write_case_page(FILE *out, const char *day, const char *readme);

void write_bash(FILE *out, const verb *const *verbs, int n);
void write_zsh(FILE *out, const verb *const *verbs, int n);
void write_fish(FILE *out, const verb *const *verbs, int n);

/* What may be written for a value or an operand, by the word the help shows for it. */
typedef enum {
    TAKES_NOTHING,
    TAKES_CHOICE,
    TAKES_FILE,
    TAKES_FOLDER,
    TAKES_KEY,
    TAKES_REFRIGERANT
} takes;
takes takes_option(const option_row *row);
takes takes_operand(const verb *v);
/* Whether KEY=VALUE pairs may follow the operands. */
bool takes_pairs(const verb *v);

/* The words of "png|svg|pdf" with blanks between. */
void write_choices(FILE *out, const char *choices);
bool is_group(const ct_key_row *row); /* a section or a list, which holds keys and no value */
/* Names of all keys of a case that hold a value, but those in lists, each followed by `after`. */
void write_keys(FILE *out, const char *after);
void write_refrigerants(FILE *out);

#endif
