#include "case/fill.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/units.h"
#include "case/note.h"
#include "case/take.h"

/* A place in file, table and struct at once. */
typedef struct {
    const char *section; /* path in the table */
    const char *shown;   /* path as people see it */
    char *base;          /* struct of the section */
    const ct_node *node; /* NULL: the section is left out */
} scope;

static void fill_section(ct_reader *r, const scope *s);

static void store(char *to, const void *value, size_t size)
{
    memcpy(to, value, size);
}

/* The default is read like a line of the file, so it cannot mean anything a user could not write.
 */
static void take_default(ct_reader *r, const ct_key *k, const char *shown, char *to)
{
    char text[64];
    snprintf(text, sizeof text, "%s", k->fallback);
    const ct_node node = {.kind = CT_NODE_TEXT, .text = text};
    double v = 0.0;
    ct_take_value(&(ct_entry){k, shown, &node, r->report}, to);
    if (k->words)
        v = ct_key_word(k, text, NULL);
    else
        ct_units_read(text, k->unit, &v, NULL);
    ct_note_assumption(r->report, shown, v, text, k->why);
}

/* The keys that are required, or of which others may take the place: "this or ...". */
static void list_needed(const ct_key_index *keys, const char *section, bool others, char *text,
                        size_t size)
{
    size_t n = 0;
    text[0] = '\0';
    for (int i = ct_key_index_first(keys, section); i >= 0 && n < size; i = keys->next[i]) {
        const ct_key *k = keys->row[i];
        const char *name = ct_key_child_name(k, section);
        if (!others && k->when == CT_WHEN_REQUIRED)
            n += (size_t)snprintf(text + n, size - n, "%s%s", n ? ", " : "", name);
        if (others && strncmp(k->when_text, "this or ", 8) == 0)
            n += (size_t)snprintf(text + n, size - n, "%s%s (%s)", n ? ", " : "", name,
                                  k->when_text);
    }
}

static void missing_section(ct_reader *r, const ct_key *k, const char *shown, int line)
{
    char needs[160], one_of[160];
    list_needed(r->index, k->path, false, needs, sizeof needs);
    list_needed(r->index, k->path, true, one_of, sizeof one_of);
    if (!*needs && *one_of)
        ct_note_fault(r->report, CT_CASE_MISSING_KEY, line, shown, "",
                      "this section is missing (%s); it holds at least one of: %s", k->help,
                      one_of);
    else if (*needs)
        ct_note_fault(r->report, CT_CASE_MISSING_KEY, line, shown, "",
                      "this section is missing (%s); it holds at least: %s", k->help, needs);
    else
        ct_note_fault(r->report, CT_CASE_MISSING_KEY, line, shown, "",
                      "this section is missing (%s); nothing in it is required: write at least "
                      "'%s: {}'",
                      k->help, shown);
}

static void missing_key(ct_reader *r, const ct_key *k, const char *shown, int line)
{
    ct_note_fault(r->report, CT_CASE_MISSING_KEY, line, shown, "",
                  "missing: %s; write it as %s%s%s", k->help, k->unit_text,
                  k->allowed_text ? ", allowed " : "", k->allowed_text ? k->allowed_text : "");
}

static void key_left_out(ct_reader *r, const ct_key *k, const char *shown, int line, char *to)
{
    const double none = NAN;
    if (k->type == CT_KEY_NUMBER) store(to, &none, sizeof none);
    if (k->when == CT_WHEN_REQUIRED)
        (k->type == CT_KEY_SECTION ? missing_section : missing_key)(r, k, shown, line);
    if (k->when == CT_WHEN_DEFAULT) take_default(r, k, shown, to);
    if (k->when == CT_WHEN_ALWAYS)
        fill_section(r, &(scope){.section = k->path, .shown = shown, .base = to});
}

static ct_node_kind shape_of(const ct_key *k)
{
    if (k->type == CT_KEY_SECTION) return CT_NODE_SECTION;
    if (k->type == CT_KEY_LIST || k->type == CT_KEY_LINE || k->type == CT_KEY_NUMBERS)
        return CT_NODE_LIST;
    return CT_NODE_TEXT;
}

static int count_keys(const ct_key_index *keys, const char *section)
{
    int n = 0;
    for (int i = ct_key_index_first(keys, section); i >= 0; i = keys->next[i])
        n++;
    return n;
}

/* "[0.5 inwc, 1210 cfm, 480 W]": the keys of the item in the order of the table. Of too many values
 * nobody knows which is which, so none is read. */
static void fill_line(ct_reader *r, const ct_entry *line, char *base)
{
    if (!ct_take_shape(line, CT_NODE_LIST)) return;
    const ct_node *item = line->node->first;
    const int wanted = count_keys(r->index, line->key->item);
    const bool too_many = line->node->n > wanted;
    const double none = NAN;
    int i = ct_key_index_first(r->index, line->key->item);
    for (; item && i >= 0; i = r->index->next[i]) {
        const ct_key *k = r->index->row[i];
        char path[CT_PATH_SIZE];
        ct_key_path_join(path, line->shown, ct_key_child_name(k, line->key->item));
        const ct_entry e = {k, path, item, r->report};
        if (too_many)
            store(base + k->offset, &none, sizeof none);
        else if (ct_take_shape(&e, CT_NODE_TEXT))
            ct_take_value(&e, base + k->offset);
        item = item->next;
    }
    if (line->node->n == wanted) return;
    ct_entry_fault(line, CT_CASE_COUNT,
                   "%d values belong in one line of this list, as %s; here are %d%s", wanted,
                   line->key->unit_text, line->node->n,
                   too_many ? "; a comma ends a value between brackets: put one with a comma in "
                              "quotes"
                            : "");
}

static void fill_list(ct_reader *r, const ct_entry *list, char *base)
{
    const ct_key *k = list->key;
    if (list->node->n < 1 || list->node->n > k->max)
        ct_entry_fault(list, CT_CASE_COUNT, "%d in this list; allowed: %s", list->node->n,
                       k->allowed_text);
    int count;
    memcpy(&count, base + k->mark, sizeof count);
    int i = 0;
    for (const ct_node *item = list->node->first; item && i < k->max; item = item->next, i++) {
        char path[CT_PATH_SIZE];
        char *to = base + k->offset + (size_t)i * k->size;
        ct_key_path_item(path, list->shown, i);
        if (k->type == CT_KEY_LINE)
            fill_line(r, &(ct_entry){k, path, item, r->report}, to);
        else
            fill_section(r, &(scope){k->item, path, to, item});
    }
    count += i;
    store(base + k->mark, &count, sizeof count);
}

static void key_given(ct_reader *r, const ct_entry *e, char *base)
{
    const ct_key *k = e->key;
    const bool yes = true;
    if (!ct_take_shape(e, shape_of(k))) return;
    if (k->type == CT_KEY_SECTION) {
        if (k->mark != CT_NO_MARK) store(base + k->mark, &yes, sizeof yes);
        fill_section(r, &(scope){k->path, e->shown, base + k->offset, e->node});
    } else if (k->type == CT_KEY_LIST || k->type == CT_KEY_LINE) {
        fill_list(r, e, base);
    } else if (k->type == CT_KEY_NUMBERS) {
        ct_take_numbers(e, base + k->offset);
    } else {
        ct_take_value(e, base + k->offset);
    }
}

/* The text a value ends with, as far as it was read. */
static const char *end_of(const ct_node *node)
{
    return node->text && node->text[0] ? node->text : node->key ? node->key : "";
}

/* "{sensible_load: 21,000 Btu/h}" is two keys to YAML, '000 Btu/h' without a value: no key of ours
 * begins with a digit. */
static bool is_split_off(const ct_node *before, const ct_node *node)
{
    const char *end = before ? end_of(before) : "";
    const size_t n = strlen(end);
    return n > 0 && node->key && isdigit((unsigned char)node->key[0]) &&
           node->kind == CT_NODE_TEXT && node->text[0] == '\0' &&
           isdigit((unsigned char)end[n - 1]);
}

static bool is_split(const ct_node *node)
{
    return node->kind == CT_NODE_TEXT && node->next && is_split_off(node, node->next);
}

static void key_split(const ct_entry *e, char *to)
{
    const double none = NAN;
    if (e->key->type == CT_KEY_NUMBER) store(to, &none, sizeof none);
    ct_entry_fault(
        e, CT_CASE_NUMBER,
        "a comma ends a value between braces, so '%s' and '%s' are two; put the value in "
        "quotes, or write it without the comma",
        e->node->text, e->node->next->key);
}

static void check_key(ct_reader *r, const scope *s, const ct_node *node)
{
    char path[CT_PATH_SIZE];
    char advice[400] = "";
    ct_key_path_join(path, s->shown, node->name);
    const ct_node *first = ct_tree_find(s->node, node->name);
    if (!ct_key_index_child(r->index, s->section, node->name)) {
        if (r->report->n_faults < CT_MAX_CASE_FAULTS) /* costly, and nobody would read it */
            ct_key_suggest(r->keys, s->section, node->key, false, advice, sizeof advice);
        ct_note_fault(r->report, CT_CASE_UNKNOWN_KEY, node->line, path, node->key, "%s", advice);
    } else if (first != node) {
        ct_note_fault(r->report, CT_CASE_DOUBLED_KEY, node->line, path,
                      node->text ? node->text : "",
                      "this key is in line %d already; take one of the two out", first->line);
    }
}

static void fill_section(ct_reader *r, const scope *s)
{
    const ct_entry section = {NULL, s->shown, s->node, r->report};
    if (s->node && !ct_take_shape(&section, CT_NODE_SECTION)) return;
    const ct_node *before = NULL;
    for (const ct_node *node = s->node ? s->node->first : NULL; node; node = node->next) {
        if (!is_split_off(before, node)) check_key(r, s, node);
        before = node;
    }
    const int line = s->node && *s->section ? s->node->line : 0;
    for (int i = ct_key_index_first(r->index, s->section); i >= 0; i = r->index->next[i]) {
        const ct_key *k = r->index->row[i];
        const char *name = ct_key_child_name(k, s->section);
        char path[CT_PATH_SIZE];
        ct_key_path_join(path, s->shown, name);
        const ct_node *node = s->node ? ct_tree_find(s->node, name) : NULL;
        if (node && is_split(node))
            key_split(&(ct_entry){k, path, node, r->report}, s->base + k->offset);
        else if (node)
            key_given(r, &(ct_entry){k, path, node, r->report}, s->base);
        else
            key_left_out(r, k, path, line, s->base + k->offset);
    }
}

static void own_names(const ct_key_index *keys, const char *section, ct_node *node)
{
    for (ct_node *child = node->first; child; child = child->next) {
        const ct_key *k = child->key ? ct_key_index_child(keys, section, child->key) : NULL;
        if (!k) continue;
        ct_tree_rename(child, ct_key_child_name(k, section));
        if (k->type == CT_KEY_SECTION && child->kind == CT_NODE_SECTION)
            own_names(keys, k->path, child);
        if (k->type != CT_KEY_LIST || child->kind != CT_NODE_LIST) continue;
        for (ct_node *item = child->first; item; item = item->next)
            own_names(keys, k->item, item);
    }
}

void ct_fill_names(const ct_key_table *keys, ct_node *root)
{
    ct_key_index index;
    if (!root) return;
    ct_key_index_make(keys, &index);
    own_names(&index, "", root);
}

void ct_fill(ct_reader *r, void *base)
{
    ct_key_index index;
    ct_key_index_make(r->keys, &index);
    r->index = &index;
    fill_section(r, &(scope){"", "", base, r->root});
    r->index = NULL;
}
