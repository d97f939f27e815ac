/* Place: a section of the file under the name people know it by, for whoever looks at keys beside
 * each other.
 *
 * Internal. */
#ifndef CT_CASE_PLACE_H
#define CT_CASE_PLACE_H

#include "case/case.h"
#include "case/fill.h"
#include "case/note.h"

typedef struct {
    ct_reader *r;
    const ct_node *node; /* NULL: left out */
    const char *shown;
} ct_place;

typedef struct {
    char text[CT_PATH_SIZE];
} ct_path;

/* "outdoor.tons" of "tons" in the place "outdoor". */
ct_path ct_place_path(const ct_place *, const char *key);

/* The key's node, NULL when it is left out; its line, or the section's; its text, "" without. */
const ct_node *ct_place_at(const ct_place *, const char *key);
int ct_place_line(const ct_place *, const char *key);
const char *ct_place_text(const ct_place *, const char *key);

/* The section of the whole file. */
ct_place ct_place_section(ct_reader *, const char *name);

#define ct_place_fault(p, kind, key, ...)                                                          \
    ct_note_fault((p)->r->report, kind, ct_place_line(p, key), ct_place_path(p, key).text,         \
                  ct_place_text(p, key), __VA_ARGS__)

/* Faults of two keys: `a` is there and means nothing without `b`; only one of them may be there. */
void ct_place_needs(const ct_place *, const char *a, const char *b, const char *advice);
void ct_place_not_both(const ct_place *, const char *a, const char *b, const char *advice);

/* Calls `visit` for the unit in question and every candidate read, counted from 0. */
typedef void ct_place_visit(const ct_place *, ct_case *, int i);
void ct_place_each_unit(ct_reader *, ct_case *, ct_place_visit *visit);

/* The same for the places on the way in. */
void ct_place_each_opening(ct_reader *, ct_case *, ct_place_visit *visit);

#endif
