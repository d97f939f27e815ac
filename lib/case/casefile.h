/* Case file: reads the technician's text file into a case.
 *
 * YAML syntax (libyaml); each value has its unit beside it ("95 F", "0.62 inwc", "3 ton"). One
 * table of keys drives the reader, the messages, the key list in the help and the list of what was
 * assumed. Every fault in the file is reported in one run. Numbers are read the same in every
 * locale. */
#ifndef CT_CASE_CASEFILE_H
#define CT_CASE_CASEFILE_H

#include <stddef.h>

#include "case/case.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What a fault is about, for programs and for counting; people read its text. */
typedef enum {
    CT_CASE_TOO_LARGE,   /* the file, or the number of its values */
    CT_CASE_NOT_TEXT,    /* not UTF-8, or control characters */
    CT_CASE_SYNTAX,      /* not YAML */
    CT_CASE_EXTRAS,      /* anchors, aliases, tags */
    CT_CASE_DEPTH,       /* nested too deep */
    CT_CASE_SHAPE,       /* a section where a value belongs, and so on */
    CT_CASE_UNKNOWN_KEY, /* */
    CT_CASE_DOUBLED_KEY, /* */
    CT_CASE_MISSING_KEY, /* */
    CT_CASE_EMPTY,       /* a key without a value */
    CT_CASE_NUMBER,      /* not a number */
    CT_CASE_UNIT,        /* no unit, or one of another kind */
    CT_CASE_RANGE,       /* outside what is allowed */
    CT_CASE_CHOICE,      /* not one of the words allowed */
    CT_CASE_TEXT,        /* too long, or several lines where one belongs */
    CT_CASE_COUNT,       /* too few or too many in a list */
    CT_CASE_CONFLICT,    /* two keys that contradict each other */
    CT_CASE_INCOMPLETE,  /* a key that needs another beside it */
    CT_CASE_FAULT_KINDS  /* how many kinds there are */
} ct_case_fault_kind;

typedef struct {
    ct_case_fault_kind kind;
    int line;       /* 1-based; of the section when a key is missing; 0 when there is none */
    char key[96];   /* full path, "outdoor.rated_capacity" */
    char given[80]; /* the text as it stood, "" if none */
    char what[240]; /* what is wrong, what is allowed, what to do */
} ct_case_fault;

typedef struct {
    char key[96];
    double v;      /* SI */
    char text[48]; /* the default as it would be written in a file, "10 F" */
    char why[120]; /* where the assumption comes from */
} ct_assumed;

#define CT_MAX_CASE_FAULTS 200
#define CT_MAX_ASSUMED 200

typedef struct {
    int n_faults, n_assumed; /* n_faults may count past the stored CT_MAX_CASE_FAULTS */
    ct_case_fault fault[CT_MAX_CASE_FAULTS];
    ct_assumed assumed[CT_MAX_ASSUMED];
} ct_case_report;

/* Reads the file. CT_OK: *c is complete and self-consistent. CT_INPUT: report->fault tells all that
 * is wrong, by line, and *fault the first of it; *c is untouched. CT_SYSTEM: the file cannot be
 * read, or no memory. report must not be NULL; it is filled in every case. Names of list items in
 * the report count from 1: "candidates[1]" is the first. */
CT_API ct_status ct_casefile_load(const char *path, ct_case *c, ct_case_report *report,
                                  ct_fault *fault);

/* The same from memory (for tests, fuzzing and host programs). */
CT_API ct_status ct_casefile_parse(const char *text, size_t size, ct_case *c,
                                   ct_case_report *report, ct_fault *fault);

/* A value written over, or in place of, one of the file: for tables of cases that share most. */
typedef struct {
    const char *key;  /* "outdoor.rated_capacity", "candidates[1].coil.size"; items count from 1 */
    const char *text; /* as it would stand in the file; NULL takes the key out */
    int line;         /* told in faults about it: the line of the table */
} ct_override;

/* Like ct_casefile_parse after putting n overrides into the file, in order: the same keys, units,
 * limits and messages. An override whose list item does not exist, or that leads through a value,
 * is a fault of its own (CT_CASE_UNKNOWN_KEY). An empty file is taken. */
CT_API ct_status ct_casefile_parse_over(const char *text, size_t size, const ct_override *, int n,
                                        ct_case *c, ct_case_report *report, ct_fault *fault);

/* One row of the table of keys, for help and manual. Returns false past the end. */
typedef struct {
    const char *key;     /* "outdoor.rated_capacity" */
    const char *unit;    /* kind and example, "power, 36000 Btu/h" */
    const char *allowed; /* "6000 Btu/h to 240000 Btu/h" */
    const char *when;    /* "required", "default 10 F", "optional" */
    const char *help;
} ct_key_row;
CT_API bool ct_casefile_key(int i, ct_key_row *row);

#ifdef __cplusplus
}
#endif
#endif
