/* Report: what is wrong with a file, by line, and what was assumed where it says nothing. Public.
 *
 * Filled by the readers of case files and of readings. */
#ifndef CT_CASE_REPORT_H
#define CT_CASE_REPORT_H

/* What a fault is about, for programs and for counting; people read its text. */
typedef enum {
    CT_CASE_TOO_LARGE,   /* the file, or the number of its values */
    CT_CASE_NOT_TEXT,    /* not UTF-8, or control characters */
    CT_CASE_SYNTAX,      /* not YAML */
    CT_CASE_EXTRAS,      /* anchors, aliases, tags */
    CT_CASE_DEPTH,       /* nested too deep */
    CT_CASE_SHAPE,       /* a section where a value belongs, and so on */
    CT_CASE_UNKNOWN_KEY, /* no key of this section */
    CT_CASE_DOUBLED_KEY, /* given twice */
    CT_CASE_MISSING_KEY, /* required, and not there */
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

/* The line of a value that comes from a command line and not from a file. */
#define CT_LINE_OF_PAIR (-1)

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
    char why[160]; /* where the assumption comes from */
} ct_assumed;

/* How the remark begins that stands beside an assumed value in a file. */
#define CT_ASSUMED_MARK "ASSUMED: "

/* A value of the file that means nothing beside what a pair says: a piston's bore, once the pair
 * makes the metering device a valve. */
typedef struct {
    char key[96];   /* full path */
    char given[80]; /* the text as it stood */
    char pair[80];  /* the text of the pair */
} ct_set_aside;

#define CT_MAX_SET_ASIDE 24
#define CT_MAX_CASE_FAULTS 200
#define CT_MAX_ASSUMED 200

typedef struct {
    int n_faults, n_assumed;     /* n_faults may count past the stored CT_MAX_CASE_FAULTS */
    int n_celsius, n_fahrenheit; /* temperatures written in the file: C and K, or F */
    ct_case_fault fault[CT_MAX_CASE_FAULTS];
    ct_assumed assumed[CT_MAX_ASSUMED];
    int n_set_aside;
    ct_set_aside set_aside[CT_MAX_SET_ASIDE];
} ct_case_report;

#endif
