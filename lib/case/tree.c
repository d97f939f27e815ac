#include "case/tree.h"

#include <errno.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <yaml.h>

#include "base/utf8.h"
#include "case/note.h"

static bool is_control(unsigned char c)
{
    return c == 0x7F || (c < 0x20 && c != '\n' && c != '\r' && c != '\t');
}

/* What a terminal or a page would obey instead of showing it: the controls U+0080 to U+009F, and
 * the characters that break a line or turn the direction of all that follows. s: n bytes of
 * UTF-8. */
static bool is_obeyed(const unsigned char *s, size_t n)
{
    if (n == 2) return s[0] == 0xC2 && s[1] < 0xA0;
    if (n != 3 || s[0] != 0xE2) return false;
    return (s[1] == 0x80 && s[2] >= 0xA8 && s[2] <= 0xAE) ||
           (s[1] == 0x81 && s[2] >= 0xA6 && s[2] <= 0xA9);
}

static unsigned code_point(const unsigned char *s, size_t n)
{
    return n == 2 ? (s[0] & 0x1Fu) << 6 | (s[1] & 0x3Fu)
                  : (s[0] & 0x0Fu) << 12 | (s[1] & 0x3Fu) << 6 | (s[2] & 0x3Fu);
}

/* libyaml checks this too, but gives a byte offset where a person wants a line.
 */
bool ct_tree_is_text(const char *text, size_t size, ct_case_fault *fault)
{
    const unsigned char *s = (const unsigned char *)text;
    int line = 1;
    for (size_t i = 0; i < size;) {
        if (s[i] >= 0x20 && s[i] < 0x7F) { /* nearly all */
            i++;
            continue;
        }
        const size_t n = ct_utf8_length(s + i, size - i);
        if (n == 0 || is_control(s[i])) {
            ct_note_set(fault, CT_CASE_NOT_TEXT, line, "", "",
                        n ? "the control character 0x%02X is not allowed in a case file; "
                            "save the file as plain text"
                          : "the byte 0x%02X is not UTF-8; save the file as UTF-8 text",
                        s[i]);
            return false;
        }
        if (is_obeyed(s + i, n)) {
            ct_note_set(fault, CT_CASE_NOT_TEXT, line, "", "",
                        "the character U+%04X is not allowed in a case file; a terminal would obey "
                        "it; take it out",
                        code_point(s + i, n));
            return false;
        }
        if (s[i] == '\n') line++;
        i += n;
    }
    return true;
}

typedef struct {
    const char *text;
    size_t size;
    ct_node *root;
    ct_node *stack[CT_TREE_DEPTH]; /* open sections and lists */
    int depth;
    char *key; /* read, and waiting for its value */
    int key_line;
    int nodes;
    int documents;
    ct_case_fault *fault;
} builder;

static ct_status refuse(builder *b, ct_case_fault_kind kind, int line, const char *what)
{
    ct_note_set(b->fault, kind, line, b->key ? b->key : "", "", "%s", what);
    return CT_INPUT;
}

static char *copy_text(const yaml_char_t *value, size_t length)
{
    char *copy = malloc(length + 1);
    if (!copy) return NULL;
    memcpy(copy, value, length);
    copy[length] = '\0';
    return copy;
}

static void hang(ct_node *parent, ct_node *node)
{
    if (parent->last)
        parent->last->next = node;
    else
        parent->first = node;
    parent->last = node;
    parent->n++;
}

/* Hangs a new node where it belongs: at the root, in the open list, or under the waiting key. */
static ct_status add_node(builder *b, ct_node_kind kind, int line, ct_node **out)
{
    ct_node *parent = b->depth ? b->stack[b->depth - 1] : NULL;
    if (!parent && kind != CT_NODE_SECTION)
        return refuse(b, CT_CASE_SHAPE, line, "a case file is made of 'key: value' lines");
    if (parent && parent->kind == CT_NODE_SECTION && !b->key)
        return refuse(b, CT_CASE_SHAPE, line, "a key must be a plain word");
    if (++b->nodes > CT_TREE_NODES)
        return refuse(b, CT_CASE_TOO_LARGE, line,
                      "more than 5000 values; a case file needs far fewer");
    ct_node *node = calloc(1, sizeof *node);
    if (!node) return CT_SYSTEM;
    node->kind = kind;
    node->line = b->key ? b->key_line : line;
    node->name = node->key = b->key;
    b->key = NULL;
    if (parent)
        hang(parent, node);
    else
        b->root = node;
    *out = node;
    return CT_OK;
}

static ct_status open_node(builder *b, ct_node_kind kind, int line)
{
    ct_node *node;
    if (b->depth == CT_TREE_DEPTH)
        return refuse(b, CT_CASE_DEPTH, line,
                      "nested deeper than 10; no key is that deep; check the indentation");
    const ct_status status = add_node(b, kind, line, &node);
    if (status == CT_OK) b->stack[b->depth++] = node;
    return status;
}

/* An escape such as "\0" can still bring one in. */
static bool holds_control(const yaml_char_t *value, size_t length)
{
    for (size_t i = 0, n; i < length; i += n) {
        n = ct_utf8_length(value + i, length - i);
        if (n == 0 || is_control(value[i]) || is_obeyed(value + i, n)) return true;
    }
    return false;
}

static ct_status add_scalar(builder *b, const yaml_event_t *e, int line)
{
    const yaml_char_t *value = e->data.scalar.value;
    const size_t length = e->data.scalar.length;
    if (holds_control(value, length))
        return refuse(b, CT_CASE_NOT_TEXT, line, "a text holds an escaped control character");
    char *copy = copy_text(value, length);
    if (!copy) return CT_SYSTEM;
    const ct_node *within = b->depth ? b->stack[b->depth - 1] : NULL;
    if (within && within->kind == CT_NODE_SECTION && !b->key) {
        b->key = copy;
        b->key_line = line;
        return CT_OK;
    }
    ct_node *node;
    const ct_status status = add_node(b, CT_NODE_TEXT, line, &node);
    if (status == CT_OK)
        node->text = copy;
    else
        free(copy);
    return status;
}

static bool has_extras(const yaml_event_t *e)
{
    switch (e->type) {
    case YAML_ALIAS_EVENT: return true;
    case YAML_SCALAR_EVENT: return e->data.scalar.anchor || e->data.scalar.tag;
    case YAML_SEQUENCE_START_EVENT:
        return e->data.sequence_start.anchor || e->data.sequence_start.tag;
    case YAML_MAPPING_START_EVENT: return e->data.mapping_start.anchor || e->data.mapping_start.tag;
    default: return false;
    }
}

static ct_status take_event(builder *b, const yaml_event_t *e)
{
    const int line = (int)e->start_mark.line + 1;
    if (has_extras(e))
        return refuse(b, CT_CASE_EXTRAS, line,
                      "anchors (&), aliases (*) and tags (!) are not allowed; write the value out, "
                      "and quote a text that begins with one of these");
    switch (e->type) {
    case YAML_DOCUMENT_START_EVENT:
        if (b->documents++)
            return refuse(b, CT_CASE_SHAPE, line,
                          "a second document begins ('---'); one file, one case");
        return CT_OK;
    case YAML_SCALAR_EVENT:
        /* An empty document is one empty scalar. */
        if (!b->depth && e->data.scalar.length == 0) return CT_OK;
        return add_scalar(b, e, line);
    case YAML_MAPPING_START_EVENT: return open_node(b, CT_NODE_SECTION, line);
    case YAML_SEQUENCE_START_EVENT: return open_node(b, CT_NODE_LIST, line);
    case YAML_MAPPING_END_EVENT:
    case YAML_SEQUENCE_END_EVENT: b->depth--; return CT_OK;
    default: return CT_OK;
    }
}

/* Is there a tab in the blanks that begin this line? */
static bool tab_indents(const builder *b, int line)
{
    const char *s = b->text;
    const char *end = b->text + b->size;
    for (int n = 1; s < end && n < line; s++)
        n += *s == '\n';
    for (; s < end && (*s == ' ' || *s == '\t'); s++)
        if (*s == '\t') return true;
    return false;
}

static const char *syntax_hint(const builder *b, const char *problem, int line)
{
    if (tab_indents(b, line)) return "indent with blanks, not tabs";
    if (strstr(problem, "mapping values"))
        return "put a text that holds ': ' in quotes, and line up the keys of a section";
    return "check the indentation, quotes and brackets here and in the line above";
}

/* Of the text, counted as libyaml does (YAML 1.1): CR LF, CR, LF, U+0085, U+2028 and U+2029. */
static int last_line(const builder *b)
{
    int n = 1;
    for (size_t i = 0; i + 1 < b->size; i++) {
        const char *c = b->text + i;
        const size_t left = b->size - i;
        n += *c == '\n' || (*c == '\r' && c[1] != '\n') ||
             (left > 2 && memcmp(c, "\xC2\x85", 2) == 0) ||
             (left > 3 && (memcmp(c, "\xE2\x80\xA8", 3) == 0 || memcmp(c, "\xE2\x80\xA9", 3) == 0));
    }
    return n;
}

static ct_status syntax_fault(builder *b, const yaml_parser_t *p)
{
    if (p->error == YAML_MEMORY_ERROR) return CT_SYSTEM;
    const char *problem = p->problem ? p->problem : "unreadable";
    const int end = last_line(b), told = (int)p->problem_mark.line + 1;
    const int line = told < end ? told : end; /* at the end of the text libyaml counts one more */
    ct_note_set(b->fault, CT_CASE_SYNTAX, line, "", "", "not YAML: %s%s%s; %s", problem,
                p->context ? " " : "", p->context ? p->context : "", syntax_hint(b, problem, line));
    return CT_INPUT;
}

static ct_status build(builder *b, yaml_parser_t *p)
{
    for (bool done = false; !done;) {
        yaml_event_t e;
        if (!yaml_parser_parse(p, &e)) return syntax_fault(b, p);
        done = e.type == YAML_STREAM_END_EVENT;
        const ct_status status = take_event(b, &e);
        yaml_event_delete(&e);
        if (status != CT_OK) return status;
    }
    return CT_OK;
}

ct_status ct_tree_read(const char *text, size_t size, ct_node **root, ct_case_fault *fault)
{
    *root = NULL;
    if (!text) size = 0; /* libyaml would end the process */
    if (!text) text = "";
    if (size > CT_TREE_BYTES) {
        ct_note_set(fault, CT_CASE_TOO_LARGE, 0, "", "",
                    "larger than 1 MiB; this is not a case file");
        return CT_INPUT;
    }
    if (size >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0) {
        text += 3;
        size -= 3;
    }
    if (!ct_tree_is_text(text, size, fault)) return CT_INPUT;
    yaml_parser_t p;
    if (!yaml_parser_initialize(&p)) return CT_SYSTEM;
    yaml_parser_set_encoding(&p, YAML_UTF8_ENCODING);
    yaml_parser_set_input_string(&p, (const unsigned char *)text, size);
    builder b = {.text = text, .size = size, .fault = fault};
    const ct_status status = build(&b, &p);
    yaml_parser_delete(&p);
    free(b.key);
    if (status == CT_OK)
        *root = b.root;
    else
        ct_tree_free(b.root);
    return status;
}

void ct_tree_free(ct_node *node)
{
    while (node) {
        ct_node *next = node->next;
        ct_tree_free(node->first);
        free(node->key);
        free(node->text);
        free(node);
        node = next;
    }
}

void ct_tree_rename(ct_node *node, const char *name)
{
    node->name = name;
}

static const ct_node *child(const ct_node *node, const char *key, size_t length)
{
    if (!node || node->kind != CT_NODE_SECTION) return NULL;
    for (const ct_node *c = node->first; c; c = c->next)
        if (strncmp(c->name, key, length) == 0 && c->name[length] == '\0') return c;
    return NULL;
}

const ct_node *ct_tree_find(const ct_node *node, const char *path)
{
    const size_t length = strcspn(path, ".");
    node = child(node, path, length);
    return node && path[length] ? ct_tree_find(node, path + length + 1) : node;
}

ct_node *ct_tree_empty(void)
{
    ct_node *root = calloc(1, sizeof *root);
    if (root) root->kind = CT_NODE_SECTION;
    return root;
}

static ct_node *own_child(ct_node *node, const char *key, size_t length)
{
    for (ct_node *c = node->first; c; c = c->next)
        if (c->name && strncmp(c->name, key, length) == 0 && c->name[length] == '\0') return c;
    return NULL;
}

/* The nth item, from "[n]" at *path, which is moved past it. NULL: none. */
static ct_node *item(ct_node *list, const char **path)
{
    char *end;
    const long wanted = strtol(*path + 1, &end, 10);
    if (list->kind != CT_NODE_LIST || *end != ']' || wanted < 1) return NULL;
    *path = end + 1;
    ct_node *c = list->first;
    for (long i = 1; c && i < wanted; i++)
        c = c->next;
    return c;
}

static ct_node *new_child(ct_node *section, const char *key, size_t length, int line)
{
    ct_node *node = calloc(1, sizeof *node);
    char *copy = node ? copy_text((const yaml_char_t *)key, length) : NULL;
    if (!copy) {
        free(node);
        return NULL;
    }
    node->kind = CT_NODE_SECTION;
    node->line = line;
    node->name = node->key = copy;
    hang(section, node);
    return node;
}

static void take_out(ct_node *parent, ct_node *node)
{
    ct_node *before = NULL;
    for (ct_node *c = parent->first; c && c != node; c = c->next)
        before = c;
    if (before)
        before->next = node->next;
    else
        parent->first = node->next;
    if (parent->last == node) parent->last = before;
    parent->n--;
    node->next = NULL;
    ct_tree_free(node);
}

static ct_status become_text(ct_node *node, const char *text, int line)
{
    char *copy = copy_text((const yaml_char_t *)text, strlen(text));
    if (!copy) return CT_SYSTEM;
    ct_tree_free(node->first);
    free(node->text);
    node->first = node->last = NULL;
    node->n = 0;
    node->kind = CT_NODE_TEXT;
    node->text = copy;
    node->line = line;
    node->from = ct_tree_from(line);
    return CT_OK;
}

ct_status ct_tree_put(ct_node *root, const char *path, const char *text, int line)
{
    ct_node *parent = root;
    for (;;) {
        const size_t length = strcspn(path, ".[");
        if (length == 0 || parent->kind != CT_NODE_SECTION) return CT_INPUT;
        ct_node *node = own_child(parent, path, length);
        if (!node && !text) return CT_OK; /* nothing to take out */
        if (!node && path[length] == '[') return CT_INPUT;
        if (!node) node = new_child(parent, path, length, line);
        if (!node) return CT_SYSTEM;
        path += length;
        while (*path == '[')
            if (!(node = item(node, &path))) return CT_INPUT;
        if (*path == '\0') {
            if (text) return become_text(node, text, line);
            if (!node->key) return CT_INPUT;
            take_out(parent, node);
            return CT_OK;
        }
        if (*path++ != '.') return CT_INPUT;
        parent = node;
    }
}

static void set_lines(ct_node *node, int line)
{
    for (; node; node = node->next) {
        node->line = line;
        set_lines(node->first, line);
    }
}

/* Hands the children of `from` to `to`, which was a text. */
static void take_over(ct_node *to, ct_node *from)
{
    free(to->text);
    to->text = NULL;
    to->kind = from->kind;
    to->n = from->n;
    to->first = from->first;
    to->last = from->last;
    from->first = from->last = NULL;
    from->n = 0;
    set_lines(to->first, to->line);
}

ct_status ct_tree_unfold(ct_node *root, const char *path, ct_case_fault *fault)
{
    ct_node *node = root, *parsed;
    char *text;
    for (size_t n; node && *path; path += n + (path[n] == '.')) {
        n = strcspn(path, ".[");
        node = own_child(node, path, n);
        if (path[n] == '[') return CT_OK;
    }
    if (!node || node->kind != CT_NODE_TEXT) return CT_OK;
    if (asprintf(&text, "v: %s", node->text) < 0) return CT_SYSTEM;
    const ct_status status = ct_tree_read(text, strlen(text), &parsed, fault);
    free(text);
    if (status != CT_OK) return status;
    if (parsed) take_over(node, parsed->first);
    ct_tree_free(parsed);
    return CT_OK;
}

static ct_status cannot_read(const char *path, ct_fault *fault)
{
    char reason[96]; /* strerror's own buffer is shared between threads */
    const char *text = strerror_r(errno, reason, sizeof reason);
    return ct_fault_say(fault, CT_SYSTEM, "cannot read '%.80s': %s", path, text);
}

ct_status ct_tree_text(const char *path, char **text, size_t *size, ct_fault *fault)
{
    if (!path) return ct_fault_say(fault, CT_INPUT, "no file name given");
    FILE *f = fopen(path, "rb");
    if (!f) return cannot_read(path, fault);
    char *all = malloc(CT_TREE_BYTES + 1); /* one more, to see that there is more */
    if (!all) {
        fclose(f);
        return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    }
    *size = fread(all, 1, CT_TREE_BYTES + 1, f);
    const ct_status status = ferror(f) ? cannot_read(path, fault) : CT_OK;
    fclose(f);
    if (status == CT_OK)
        *text = all;
    else
        free(all);
    return status;
}
