/* Key: what the reader must know of one key of a file, and how keys are found. Internal.
 *
 * A row says a key's place in the file, what is written there, what is allowed, what is taken when
 * it is left out and why, and where it goes. Sections and lists have rows too. Offsets count from
 * the struct of the enclosing section or list item. Which keys there are is for the tables (keys.h,
 * readings.c). */
#ifndef CT_CASE_KEY_H
#define CT_CASE_KEY_H

#include <stdbool.h>
#include <stddef.h>

#include "base/units.h"
#include "case/key_row.h"

typedef enum {
    CT_KEY_SECTION, /* children at offset; `mark` is a bool set when it is given */
    CT_KEY_LIST,    /* items of `size` at offset, at most `max`; `mark` an int counter */
    CT_KEY_LINE,    /* the same, each item itself a short list: its keys in order */
    CT_KEY_NUMBER,  /* double */
    CT_KEY_MAYBE,   /* ct_maybe */
    CT_KEY_READING, /* ct_reading, with its margin after +/- */
    CT_KEY_WHOLE,   /* int */
    CT_KEY_NUMBERS, /* double[max], a list of bare numbers */
    CT_KEY_TEXT,    /* char[size] */
    CT_KEY_NOTES,   /* char[size], may have several lines */
    CT_KEY_WORD,    /* char[size], one of `words`; case and hyphens are free */
    CT_KEY_CHOICE,  /* enum, the position in `words` */
    CT_KEY_YESNO,   /* bool */
    CT_KEY_ONLY     /* text kept for the checks, stored nowhere by the table */
} ct_key_type;

typedef enum {
    CT_WHEN_REQUIRED, /* where its section is given */
    CT_WHEN_OPTIONAL,
    CT_WHEN_DEFAULT, /* `fallback`, read like a value in the file */
    CT_WHEN_DERIVED, /* worked out from other keys after reading */
    CT_WHEN_ALWAYS   /* a section whose defaults hold even when it is left out */
} ct_key_when;

#define CT_NO_MARK ((size_t)-1)

typedef struct {
    const char *path; /* items of a list are "list[]"; candidates share the rows of "indoor" */
    ct_key_type type;
    ct_key_when when;
    ct_unit_kind unit;
    const char *low, *high; /* allowed, as a person would write it; NULL: any */
    const char *fallback;
    const char *why;   /* where the assumption comes from */
    const char *words; /* "psc|constant_torque" */
    const char *also;  /* other names of the key, and of its words: see ct_key_word */
    const char *brief; /* short names of an everyday key, "capacity": see ct_key_own_path */
    bool stamped;      /* a bore, which may be the number stamped on a piston */
    size_t offset, size, mark;
    int max;
    const char *item;      /* path of the items of a list */
    const char *unit_text; /* these four are the public row */
    const char *allowed_text;
    const char *when_text;
    const char *help;
} ct_key;

/* Rows written in one file, and the keys of one kind of file, made of several of them. */
typedef struct {
    const ct_key *row;
    int n;
} ct_key_rows;

typedef struct {
    const ct_key_rows *const *part;
    int n_parts;
} ct_key_table;

/* Row i; NULL past the end. */
const ct_key *ct_key_at(const ct_key_table *, int i);

/* The public part of row i. False past the end. */
bool ct_key_public(const ct_key_table *, int i, ct_key_row *row);

const ct_key *ct_key_find(const ct_key_table *, const char *path);

/* The last part of a row's path when the row is a direct child of `section`, else NULL. */
const char *ct_key_child_name(const ct_key *, const char *section);

/* Whether `name` is another name of the key itself, not of its words. */
bool ct_key_goes_by(const ct_key *, const char *name);

/* The child of `section` called `name`, by that name or another one it goes by. NULL: none. For one
 * question; who asks for many makes a ct_key_index (key_index.h). */
const ct_key *ct_key_child(const ct_key_table *, const char *section, const char *name);

/* Which of the key's words is `text`? Letter case, blanks, hyphens and underscores are free.
 * CT_NO_WORD: none. CT_MANY_WORDS: a word of the trade for several of them; *meant is then
 * "constant_torque,constant_airflow". `also` of the key holds "TXV=valve|orifice=piston". */
#define CT_NO_WORD (-1)
#define CT_MANY_WORDS (-2)
int ct_key_word(const ct_key *, const char *text, const char **meant);

#define CT_PATH_SIZE 96

/* Paths, cut at CT_PATH_SIZE, which only an unknown key of the user can reach: "outdoor" and "tons"
 * to "outdoor.tons"; "candidates" and 0 to "candidates[1]". */
void ct_key_path_join(char path[CT_PATH_SIZE], const char *section, const char *name);
void ct_key_path_item(char path[CT_PATH_SIZE], const char *list, int i);

/* The full path of what somebody wrote: a short name ("capacity"), the last part of a path when
 * only one key ends in it ("rated_airflow"), or a path that ends in another name its key goes by
 * ("indoor.labour"). Anything else comes back as it is. */
void ct_key_own_path(const ct_key_table *, const char *given, char path[CT_PATH_SIZE]);

/* Wording for a key that is not in the table: the nearest known, or all that `section` knows.
 * `pair`: it was given as a pair or a column, not in a case file. */
void ct_key_suggest(const ct_key_table *, const char *section, const char *name, bool pair,
                    char *text, size_t size);

/* False: nobody knows a part of the path of a pair, "candidates[1].coil.size"; `text` says what may
 * have been meant. */
bool ct_key_knows(const ct_key_table *, const char *path, char *text, size_t size);

#endif
