#include "case/write.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "case/keys.h"

enum { REMARK_COLUMN = 34, INDENT = 2 };

typedef struct {
    FILE *out;
    const ct_case_report *report;
} writer;

/* Letters, digits and a few marks that mean nothing to YAML, with no blank at either end. */
static bool is_plain(const char *text)
{
    const size_t n = strlen(text);
    if (n == 0 || (!isalnum((unsigned char)text[0]) && text[0] != '.') || text[n - 1] == ' ')
        return false;
    for (size_t i = 0; i < n; i++)
        if (!isalnum((unsigned char)text[i]) && !strchr(" ._/%-+$'", text[i])) return false;
    return true;
}

/* Double quotes hold everything: quotes and what is no printing ASCII go in as escapes. */
static int put_quoted(FILE *out, const char *text)
{
    int n = 2;
    fputc('"', out);
    for (const unsigned char *s = (const unsigned char *)text; *s; s++) {
        if (*s == '"' || *s == '\\')
            n += fprintf(out, "\\%c", *s);
        else if (*s == '\n')
            n += fprintf(out, "\\n");
        else if (*s == '\t')
            n += fprintf(out, "\\t");
        else if (fputc(*s, out) != EOF)
            n++;
    }
    fputc('"', out);
    return n;
}

static int put_text(FILE *out, const char *text)
{
    return is_plain(text) ? fprintf(out, "%s", text) : put_quoted(out, text);
}

static const char *assumed_from(const ct_case_report *report, const char *path)
{
    for (int i = 0; report && i < report->n_assumed; i++)
        if (strcmp(report->assumed[i].key, path) == 0) return report->assumed[i].why;
    return NULL;
}

static void put_remark(const writer *w, const char *path, int column)
{
    const char *why = assumed_from(w->report, path);
    const ct_key *k = ct_key_find(&ct_case_keys, path);
    if (!why && !k) return;
    fprintf(w->out, "%*s# %s%s", column < REMARK_COLUMN ? REMARK_COLUMN - column : 1, "",
            why ? CT_ASSUMED_MARK : "", why ? why : k->help);
}

static void put_members(const writer *w, const ct_node *section, const char *path, int indent);

/* "[0.5 inwc, 1210 cfm, 480 W]" when nothing in it is nested. */
static bool is_flat(const ct_node *list)
{
    for (const ct_node *item = list->first; item; item = item->next)
        if (item->kind != CT_NODE_TEXT) return false;
    return true;
}

static void put_flat(FILE *out, const ct_node *list)
{
    fputc('[', out);
    for (const ct_node *item = list->first; item; item = item->next) {
        put_text(out, item->text);
        if (item->next) fputs(", ", out);
    }
    fputs("]\n", out);
}

static void put_items(const writer *w, const ct_node *list, const char *path, int indent)
{
    for (const ct_node *item = list->first; item; item = item->next) {
        fprintf(w->out, "%*s-", indent, "");
        if (item->kind == CT_NODE_TEXT) {
            fputc(' ', w->out);
            put_text(w->out, item->text);
            fputc('\n', w->out);
        } else if (item->kind == CT_NODE_LIST) {
            fputc(' ', w->out);
            put_flat(w->out, item);
        } else if (item->first) {
            fputc('\n', w->out);
            put_members(w, item, path, indent + INDENT);
        } else {
            fputs(" {}\n", w->out);
        }
    }
}

static void put_value(const writer *w, const ct_node *node, const char *path, int column)
{
    fputc(' ', w->out);
    const int n = column + 1 + put_text(w->out, node->text);
    if (node->line == CT_LINE_OF_PAIR) put_remark(w, path, n);
    fputc('\n', w->out);
}

static void put_member(const writer *w, const ct_node *node, const ct_key *k, int indent)
{
    const int column = fprintf(w->out, "%*s%s:", indent, "", node->name);
    if (node->kind == CT_NODE_TEXT) {
        put_value(w, node, k->path, column);
    } else if (!node->first) {
        fputs(node->kind == CT_NODE_LIST ? " []\n" : " {}\n", w->out);
    } else if (node->kind == CT_NODE_LIST && is_flat(node)) {
        fputc(' ', w->out);
        put_flat(w->out, node);
    } else {
        fputc('\n', w->out);
        if (node->kind == CT_NODE_LIST)
            put_items(w, node, k->item ? k->item : k->path, indent + INDENT);
        else
            put_members(w, node, k->path, indent + INDENT);
    }
}

/* In the order of the table of keys, whatever the order they came in. */
static void put_members(const writer *w, const ct_node *section, const char *path, int indent)
{
    const ct_key *k;
    bool first = true;
    for (int i = 0; (k = ct_key_at(&ct_case_keys, i)) != NULL; i++) {
        const char *name = ct_key_child_name(k, path);
        const ct_node *node = name ? ct_tree_find(section, name) : NULL;
        if (!node) continue;
        if (indent == 0 && !first) fputc('\n', w->out);
        first = false;
        put_member(w, node, k, indent);
    }
}

char *ct_write_tree(const ct_node *root, const ct_case_report *report)
{
    char *text = NULL;
    size_t size;
    FILE *out = open_memstream(&text, &size);
    if (!out) return NULL;
    const writer w = {out, report};
    if (root) put_members(&w, root, "", 0);
    const bool good = !ferror(out);
    if (fclose(out) == 0 && good) return text;
    free(text);
    return NULL;
}
