/* Case reader: what the steps of reading a case file share, and readers of other files with it.
 *
 * Internal to the library. casefile.c fills the case from the tree by the table of keys;
 * casecheck.c then looks at keys beside each other and works out what follows from others. A number
 * that could not be read is NaN meanwhile, so that a comparison with it is false and adds no second
 * fault. */
#ifndef CT_CASE_FILL_H
#define CT_CASE_FILL_H

#include "case/casefile.h"
#include "case/keys.h"
#include "case/tree.h"

typedef struct {
    const ct_key_table *keys;
    const ct_node *root;
    ct_case *c; /* NULL when it is no case that is read */
    ct_case_report *report;
} ct_reader;

/* Notes a fault; past CT_MAX_CASE_FAULTS it is only counted. */
#define ct_reader_fault(r, ...)                                                                    \
    do {                                                                                           \
        if ((r)->report->n_faults++ < CT_MAX_CASE_FAULTS)                                          \
            ct_case_fault_set(&(r)->report->fault[(r)->report->n_faults - 1], __VA_ARGS__);        \
    } while (0)

/* Notes an assumption. */
void ct_reader_assume(ct_reader *, const char *key, double v, const char *text, const char *why);

/* Which of "a|b|c" is text? -1: none. */
int ct_reader_word(const char *words, const char *text);

/* Fills `base`, the struct the offsets of r->keys count from, from the tree: values, defaults,
 * faults. */
void ct_reader_fill(ct_reader *, void *base);

/* Faults in the order of their lines. */
void ct_reader_sort(ct_case_report *);

/* CT_INPUT, with the first fault as the story. */
ct_status ct_reader_summary(const ct_case_report *, ct_fault *);

/* A whole file of at most CT_TREE_BYTES + 1 bytes; *text is the caller's to free. CT_SYSTEM. */
ct_status ct_reader_text(const char *path, char **text, size_t *size, ct_fault *);

/* Faults from keys that contradict or need each other; runs whatever was found before. */
void ct_case_check(ct_reader *);

/* Fills what follows from other keys; only for a file without faults. */
void ct_case_derive(ct_reader *);

#endif
