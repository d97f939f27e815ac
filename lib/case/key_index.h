/* Key index: which keys a section of a file has, in the order of their table. Internal.
 *
 * A table is one long list, and reading a file asks for the keys of every section, so they are
 * linked once, before it is read. */
#ifndef CT_CASE_KEY_INDEX_H
#define CT_CASE_KEY_INDEX_H

#include "case/key.h"

/* A test looks that the tables fit. */
#define CT_KEY_INDEX_ROWS 512
#define CT_KEY_INDEX_SECTIONS 64

typedef struct {
    const char *path; /* begins with the path of the section */
    size_t length;    /* of that path; 0 at the top of the file */
    int first, last;  /* rows */
} ct_key_section;

typedef struct {
    const ct_key *row[CT_KEY_INDEX_ROWS];
    int next[CT_KEY_INDEX_ROWS]; /* row of the same section, -1 at its end */
    int n;
    ct_key_section section[CT_KEY_INDEX_SECTIONS];
    int n_sections;
} ct_key_index;

void ct_key_index_make(const ct_key_table *, ct_key_index *);

/* The first row that is a direct child of `section`, "" for the top; -1 when there is none. */
int ct_key_index_first(const ct_key_index *, const char *section);

/* The child of `section` called `name`, by that name or another one it goes by. NULL: none. */
const ct_key *ct_key_index_child(const ct_key_index *, const char *section, const char *name);

#endif
