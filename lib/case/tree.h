/* Tree: a YAML file as nested sections, lists and texts, each with its line. Internal.
 *
 * It takes the plain part of YAML that a person needs and refuses the rest: anchors, aliases (a few
 * lines of them can unfold to gigabytes), tags, several documents, deep nesting. Values stay text;
 * what a text means is the reader's business, because "95 F" is a temperature here and "no" may be
 * a name there. It knows nothing of a case. */
#ifndef CT_CASE_TREE_H
#define CT_CASE_TREE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"
#include "case/report.h"

#define CT_TREE_BYTES (1024 * 1024) /* largest file taken */
#define CT_TREE_NODES 5000          /* most values in one file */
#define CT_TREE_DEPTH 10            /* deepest nesting; a case file needs 7 */

typedef enum { CT_NODE_TEXT, CT_NODE_LIST, CT_NODE_SECTION } ct_node_kind;

/* A later one may take the place of what an earlier one said. */
typedef enum { CT_FROM_FILE, CT_FROM_TABLE, CT_FROM_PAIR } ct_node_from;

/* Of what is put on this line (report.h). */
static inline ct_node_from ct_tree_from(int line)
{
    return line == CT_LINE_OF_PAIR ? CT_FROM_PAIR : CT_FROM_TABLE;
}

typedef struct ct_node {
    ct_node_kind kind;
    int line;          /* 1-based, where the value begins (the key, when it has one) */
    ct_node_from from; /* who gave it */
    char *key;         /* in a section, as written; else NULL */
    const char *name;  /* what it is found by: the key, unless ct_tree_rename set another */
    char *text;        /* of a CT_NODE_TEXT; else NULL */
    int n;             /* children */
    struct ct_node *first, *last, *next;
} ct_node;

/* Reads `size` bytes. CT_OK: *root is a section, to be freed by ct_tree_free; NULL for a file with
 * nothing but comments. CT_INPUT: *fault says the first thing wrong; *root is NULL. CT_SYSTEM: no
 * memory. A byte order mark at the start is skipped. */
ct_status ct_tree_read(const char *text, size_t size, ct_node **root, ct_case_fault *fault);
void ct_tree_free(ct_node *);

/* Lets a node be found by another name than its key; the name must outlive the tree. */
void ct_tree_rename(ct_node *, const char *name);

/* Child by name, or by dotted path below `node` ("coil.size"); NULL when absent or node is NULL.
 * The first of doubled keys. */
const ct_node *ct_tree_find(const ct_node *node, const char *path);

/* Puts a text at a path below the root, "candidates[1].coil.size" (items count from 1), in place of
 * what is there; sections on the way are made, list items must exist. text NULL takes the key out.
 * The node's line becomes `line`, and it comes from what that is. CT_INPUT: an item that does not
 * exist, a way through a text, or a path that is none; CT_SYSTEM: memory. The tree stays whole in
 * every case. */
ct_status ct_tree_put(ct_node *root, const char *path, const char *text, int line);

/* Makes the text at a path, "[0.5 inwc, 1210 cfm]" as on one line of a file, the list or section it
 * says. A path without a text is left alone. CT_INPUT: not that; CT_SYSTEM: memory. The text then
 * stays. */
ct_status ct_tree_unfold(ct_node *root, const char *path, ct_case_fault *fault);

/* False: not UTF-8, or control characters; *fault says where. ct_tree_read looks itself. */
bool ct_tree_is_text(const char *text, size_t size, ct_case_fault *fault);

/* An empty root, for a case made of nothing but texts put. NULL: memory. */
ct_node *ct_tree_empty(void);

/* A whole file of at most CT_TREE_BYTES + 1 bytes; *text is the caller's to free. CT_SYSTEM. */
ct_status ct_tree_text(const char *path, char **text, size_t *size, ct_fault *);

#endif
