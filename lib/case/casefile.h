/* Case file: reads the technician's text file into a case. Public.
 *
 * YAML syntax (libyaml); each value has its unit beside it ("95 F", "0.62 inwc", "3 ton"). One
 * table of keys drives the reader, the messages, the key list in the help and the list of what was
 * assumed. Every fault in the file is reported in one run. Numbers are read the same in every
 * locale. */
#ifndef CT_CASE_CASEFILE_H
#define CT_CASE_CASEFILE_H

#include <stddef.h>

#include "case/case.h"
#include "case/key_row.h"
#include "case/report.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Reads the file. CT_OK: *c is complete and self-consistent. CT_INPUT: report->fault lists all that
 * is wrong, by line, and *fault the first of it; *c is untouched. CT_SYSTEM: the file cannot be
 * read, or no memory. report must not be NULL; it is filled in every case. Names of list items in
 * the report count from 1: "candidates[1]" is the first. For host programs. */
CT_API ct_status ct_casefile_load(const char *path, ct_case *c, ct_case_report *report,
                                  ct_fault *fault);

/* The same from memory (for tests, fuzzing and host programs). */
CT_API ct_status ct_casefile_parse(const char *text, size_t size, ct_case *c,
                                   ct_case_report *report, ct_fault *fault);

/* A value written over, or in place of, one of the file: for tables of cases that share most. */
typedef struct {
    const char *key;  /* "outdoor.rated_capacity", "candidates[1].coil.size"; items count from 1 */
    const char *text; /* as it would be in the file, a list as "[...]"; NULL takes the key out */
    int line;         /* told in faults about it: the line of the table, or CT_LINE_OF_PAIR */
} ct_override;

typedef struct {
    const ct_override *item; /* NULL when n is 0 */
    int n;
} ct_overrides;

/* Like ct_casefile_parse after putting the overrides into the file, in order: the same keys, units,
 * limits and messages. An override whose list item does not exist, or that leads through a value,
 * is a fault of its own (CT_CASE_UNKNOWN_KEY). An empty file is taken. An override also takes the
 * place of the keys that say the same in another way: a rated_seer that of a rated_eer in the file;
 * one that changes the kind of a metering device sets the file's keys of the other kind aside
 * (report->set_aside). A pair does so with what a table says, too. */
CT_API ct_status ct_casefile_parse_over(const char *text, size_t size, const ct_overrides *,
                                        ct_case *c, ct_case_report *report, ct_fault *fault);

/* The file after the overrides as the text of a new case file, with a remark beside each value that
 * was put in: where it was assumed from, when `report` says so, else what it is. Comments of the
 * old file are not kept. *out is the caller's to free. Fails like ct_casefile_parse_over. */
CT_API ct_status ct_casefile_merge(const char *text, size_t size, const ct_overrides *,
                                   const ct_case_report *report, char **out, ct_fault *fault);

/* Reads one value as its key says: CT_INPUT with what is wrong and what is allowed. `key` may be a
 * short name. For questions put one by one. */
CT_API ct_status ct_casefile_try(const char *key, const char *text, ct_fault *fault);

/* A piston's bore without a unit, in m: from 20 on the number stamped on it, thousandths of an
 * inch; below 0.2 nothing but inches can be meant. False: it needs a unit. */
CT_API bool ct_casefile_bore(const char *text, double *bore);

/* The full path of a key written short ("capacity", "rated_airflow"); others come back as they are.
 * `path` holds CT_KEY_PATH bytes. */
#define CT_KEY_PATH 96
CT_API void ct_casefile_path(const char *given, char path[CT_KEY_PATH]);

/* One row of the table of keys, for help and manual. Returns false past the end. */
CT_API bool ct_casefile_key(int i, ct_key_row *row);

#ifdef __cplusplus
}
#endif
#endif
