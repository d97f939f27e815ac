/* Options: one table per verb parses the command line and writes the usage and the help.
 *
 * A verb fills a row for each option; the parser reports an unknown option (with the nearest
 * known), a missing or wrong value, an option given twice, and a required one left out. Values with
 * a unit arrive in SI. Both `--name value` and `--name=value` work; a long name may be cut while
 * only one begins so; letters without a value may be put together, `-qo FILE`; `--` ends the
 * options. A verb that takes a case also takes KEY=VALUE pairs, and --save. The parser is our own
 * and not getopt_long: that one prints messages of its own, which cannot name the nearest option,
 * and keeps its place in global variables. */
#ifndef CLI_BASE_OPTIONS_H
#define CLI_BASE_OPTIONS_H

#include <stdbool.h>
#include <stdio.h>

#include "base/exit_codes.h"
#include "base/units.h"
#include "case/casefile.h"

typedef enum {
    OPTION_FLAG,   /* present or not */
    OPTION_TEXT,   /* any text, a file name */
    OPTION_CHOICE, /* one of the words in `shows`, "png|svg|pdf" */
    OPTION_VALUE   /* a number with a unit of kind `unit`, read into SI */
} option_kind;

typedef struct {
    const char *name; /* without the dashes */
    char letter;      /* short form, 0 for none */
    option_kind kind;
    bool required;
    ct_unit_kind unit;
    const char *shows;    /* how the value is shown in the help; the words of a choice */
    const char *fallback; /* the default as one would type it, NULL for none */
    const char *help;     /* one sentence */
} option_row;

typedef struct {
    bool given;       /* on the command line (not by default) */
    const char *text; /* as typed, or the default; NULL when neither */
    double si;        /* OPTION_VALUE: in SI, when text is not NULL */
} option_value;

#define MAX_OPTIONS 40
#define MAX_OPERANDS 8
#define MAX_PAIRS 60

typedef struct {
    option_value option[MAX_OPTIONS]; /* by row of the verb's table */
    option_value save;                /* --save FILE, of a verb that takes a case */
    struct {
        char key[CT_KEY_PATH]; /* as written */
        const char *text;
    } pair[MAX_PAIRS];
    int n_pairs;
    const char *operand[MAX_OPERANDS];
    int n_operands;
} arguments;

typedef struct verb {
    const char *name;
    const char *purpose;  /* one line, for the list of verbs */
    const char *operands; /* "CASE", "" for none */
    int min_operands, max_operands;
    bool takes_case;      /* the first operand is a case, which pairs may change or replace */
    bool takes_pairs;     /* pairs change its cases, though no operand is one */
    const char *too_many; /* where an operand too many likely belongs; NULL: the usual words */
    const option_row *options;
    int n_options;
    const char *details; /* paragraph for the help, ends in a newline, "" for none */
    const char *example; /* one command line or more, each ending in a newline */
    exit_code (*run)(const arguments *);
} verb;

typedef enum { ARGUMENTS_OK, ARGUMENTS_HELP, ARGUMENTS_WRONG } arguments_status;

/* Reads argv[0..argc-1] (after the verb). ARGUMENTS_WRONG: the message is already out. */
arguments_status arguments_read(const verb *v, int argc, char **argv, arguments *out);

/* The complaint about an operand left out, for a verb that can do without in some runs. */
void operands_missing(const verb *v, int n_given);

void verb_help(FILE *out, const verb *v);

/* The verb's rows and, with a case, those that every such verb has; i from 0. */
int verb_option_count(const verb *v);
const option_row *verb_option(const verb *v, int i);

#endif
