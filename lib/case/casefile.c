#include "case/casefile.h"

#include <assert.h>
#include <errno.h>
#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "case/fill.h"
#include "case/readings.h"

/* Choices are stored through the table as int. */
_Static_assert(sizeof(ct_fin) == sizeof(int) && sizeof(ct_motor) == sizeof(int) &&
                   sizeof(ct_meter_kind) == sizeof(int) && sizeof(ct_growth) == sizeof(int) &&
                   sizeof(ct_opening_kind) == sizeof(int),
               "an enum of the case is as wide as int");

/* A place in file, table and case at once. */
typedef struct {
    const char *section; /* path in the table */
    const char *shown;   /* path as people see it */
    char *base;          /* struct of the section */
    const ct_node *node; /* NULL: the section is left out */
} scope;

static void fill_section(ct_reader *r, const scope *s);

void ct_reader_assume(ct_reader *r, const char *key, double v, const char *text, const char *why)
{
    if (r->report->n_assumed == CT_MAX_ASSUMED) return;
    ct_assumed *a = &r->report->assumed[r->report->n_assumed++];
    snprintf(a->key, sizeof a->key, "%s", key);
    snprintf(a->text, sizeof a->text, "%s", text);
    snprintf(a->why, sizeof a->why, "%s", why);
    a->v = v;
}

int ct_reader_word(const char *words, const char *text)
{
    const size_t n = strlen(text);
    for (int i = 0;; i++) {
        const size_t length = strcspn(words, "|");
        if (length == n && strncasecmp(words, text, n) == 0) return i;
        if (words[length] == '\0') return -1;
        words += length + 1;
    }
}

/* Limits in the unit the technician wrote, so that nobody has to convert to see what is allowed. */
static void range_fault(ct_reader *r, const ct_key *k, const char *shown, const ct_node *node,
                        double low, double high, const char *unit)
{
    double from = low;
    double to = high;
    char a[32];
    char b[32];
    const bool bare = k->unit == CT_UNIT_FRACTION && !*unit; /* "50" is nearly always 50 % */
    if (bare) unit = "%";
    const char *blank = *unit ? " " : "";
    ct_units_to(low, k->unit, unit, &from);
    ct_units_to(high, k->unit, unit, &to);
    ct_reader_fault(
        r, CT_CASE_RANGE, node->line, shown, node->text,
        "%.40s%s is outside what is allowed, %s%s%s to %s%s%s; check the number and its "
        "unit",
        node->text, bare ? " without '%'" : "", ct_number_write(from, 4, a, sizeof a), blank, unit,
        ct_number_write(to, 4, b, sizeof b), blank, unit);
}

/* A density is kept as a pitch, so its lowest limit is the largest number in SI. */
static bool in_range(const ct_key *k, double v, double *low, double *high)
{
    *low = -INFINITY;
    *high = INFINITY;
    if (!k->low) return true;
    const bool table_ok = ct_units_read(k->low, k->unit, low, NULL) == CT_OK &&
                          ct_units_read(k->high, k->unit, high, NULL) == CT_OK;
    assert(table_ok);
    (void)table_ok;
    return v >= fmin(*low, *high) && v <= fmax(*low, *high);
}

static bool starts_number(const char *text)
{
    double v;
    const char *end;
    while (*text == ' ')
        text++;
    return ct_number_read(text, &v, &end) || *text == 'R' || *text == 'r';
}

/* One number with its unit from the file, in SI. NaN after a fault. */
static double take_number(ct_reader *r, const ct_key *k, const char *shown, const ct_node *node)
{
    double v;
    double low;
    double high;
    const char *unit;
    ct_fault fault;
    if (ct_units_read_as(node->text, k->unit, &v, &unit, &fault) != CT_OK) {
        const ct_case_fault_kind kind = starts_number(node->text) ? CT_CASE_UNIT : CT_CASE_NUMBER;
        ct_reader_fault(r, kind, node->line, shown, node->text, "%s", fault.what);
        return NAN;
    }
    if (in_range(k, v, &low, &high)) return v;
    range_fault(r, k, shown, node, low, high, unit);
    return NAN;
}

static int take_whole(ct_reader *r, const ct_key *k, const char *shown, const ct_node *node)
{
    const double v = take_number(r, k, shown, node);
    if (!isfinite(v)) return 0;
    if (floor(v) == v) return (int)v;
    ct_reader_fault(r, CT_CASE_NUMBER, node->line, shown, node->text,
                    "%.40s is not a whole number; allowed: %s", node->text, k->allowed_text);
    return 0;
}

static void take_text(ct_reader *r, const ct_key *k, const char *shown, const ct_node *node,
                      char *to)
{
    const char *text = node->text;
    if (strlen(text) >= k->size)
        ct_reader_fault(r, CT_CASE_TEXT, node->line, shown, text,
                        "%zu bytes long; at most %zu fit, shorten it", strlen(text), k->size - 1);
    else if (k->type == CT_KEY_TEXT && strpbrk(text, "\r\n\t"))
        ct_reader_fault(r, CT_CASE_TEXT, node->line, shown, text,
                        "one line of text belongs here, without tabs");
    else
        strcpy(to, text);
}

static int take_choice(ct_reader *r, const ct_key *k, const char *words, const char *shown,
                       const ct_node *node)
{
    const int i = ct_reader_word(words, node->text);
    if (i < 0)
        ct_reader_fault(r, CT_CASE_CHOICE, node->line, shown, node->text,
                        "'%.40s' is not a choice here; allowed: %s (%s)", node->text, words,
                        k->help);
    return i < 0 ? 0 : i;
}

/* "r410a" is R-410A: case and hyphens carry nothing. */
static bool same_name(const char *a, const char *word, size_t n)
{
    const char *end = word + n;
    for (;;) {
        while (*a == '-' || *a == ' ')
            a++;
        while (word < end && *word == '-')
            word++;
        if (word == end || !*a) return word == end && !*a;
        if ((*a | 0x20) != (*word | 0x20)) return false;
        a++;
        word++;
    }
}

static void take_word(ct_reader *r, const ct_key *k, const char *shown, const ct_node *node,
                      char *to)
{
    for (const char *w = k->words; *w; w += strcspn(w, "|"), w += *w == '|') {
        const size_t n = strcspn(w, "|");
        if (!same_name(node->text, w, n)) continue;
        snprintf(to, k->size, "%.*s", (int)n, w);
        return;
    }
    take_choice(r, k, k->words, shown, node); /* words the fault */
}

static void take_numbers(ct_reader *r, const ct_key *k, const char *shown, const ct_node *node,
                         double *to)
{
    if (node->n != k->max)
        ct_reader_fault(r, CT_CASE_COUNT, node->line, shown, "",
                        "a list of %d numbers belongs here, not of %d", k->max, node->n);
    int i = 0;
    for (const ct_node *item = node->first; item && i < k->max; item = item->next, i++) {
        char path[CT_PATH_SIZE];
        ct_path_item(path, shown, i);
        if (item->kind == CT_NODE_TEXT)
            to[i] = take_number(r, k, path, item);
        else
            ct_reader_fault(r, CT_CASE_SHAPE, item->line, path, "", "a bare number belongs here");
    }
}

static void store(char *to, const void *value, size_t size)
{
    memcpy(to, value, size);
}

static void take_only(ct_reader *r, const ct_key *k, const char *shown, const ct_node *node)
{
    if (k->words)
        take_choice(r, k, k->words, shown, node);
    else
        take_number(r, k, shown, node);
}

/* The kind a margin of this kind is written in, "+/- 1 F" beside a temperature. */
static ct_unit_kind margin_kind(ct_unit_kind kind)
{
    return kind == CT_UNIT_TEMPERATURE      ? CT_UNIT_DELTA_T
           : kind == CT_UNIT_PRESSURE_GAUGE ? CT_UNIT_PRESSURE
                                            : kind;
}

static const char *after_sign(const char *text, size_t *before)
{
    static const char *const signs[] = {"+/-", "+-", "\xC2\xB1"};
    for (int i = 0; i < 3; i++) {
        const char *sign = strstr(text, signs[i]);
        if (!sign) continue;
        *before = (size_t)(sign - text);
        return sign + strlen(signs[i]);
    }
    return NULL;
}

/* A margin in the reading's own unit, or as a share of the reading where that is no fraction. */
static double take_margin(ct_reader *r, const ct_key *k, const char *shown, const ct_node *node,
                          const char *text, double v)
{
    double u;
    ct_fault fault;
    const bool share = strchr(text, '%') && k->unit != CT_UNIT_FRACTION;
    const ct_unit_kind kind = share ? CT_UNIT_FRACTION : margin_kind(k->unit);
    ct_status status = ct_units_read(text, kind, &u, &fault);
    if (status != CT_OK && k->unit == CT_UNIT_PRESSURE_GAUGE)
        status = ct_units_read(text, CT_UNIT_PRESSURE_GAUGE, &u, NULL); /* "2 psig" is 2 psi */
    if (status != CT_OK) {
        ct_reader_fault(r, CT_CASE_UNIT, node->line, shown, node->text, "after +/-: %s",
                        fault.what);
        return NAN;
    }
    if (share) u *= fabs(v);
    if (u > 0.0 || isnan(v)) return u;
    ct_reader_fault(r, CT_CASE_RANGE, node->line, shown, node->text,
                    "the margin after +/- must be above 0; no instrument is exact");
    return NAN;
}

/* "54.2 F" or "54.2 F +/- 1 F". */
static ct_reading take_reading(ct_reader *r, const ct_key *k, const char *shown,
                               const ct_node *node)
{
    ct_reading reading = {.has = true, .u = NAN};
    char text[80];
    size_t before = strlen(node->text);
    const char *margin = after_sign(node->text, &before);
    snprintf(text, sizeof text, "%.*s", (int)(before < sizeof text ? before : sizeof text - 1),
             node->text);
    ct_node number = *node;
    number.text = text;
    reading.v = take_number(r, k, shown, &number);
    if (margin) reading.u = take_margin(r, k, shown, node, margin, reading.v);
    return reading;
}

/* A value that stands in the file, by the type of its key. */
static void take_value(ct_reader *r, const ct_key *k, const char *shown, const ct_node *node,
                       char *to)
{
    double number;
    ct_reading reading;
    int whole;
    bool yes;
    switch (k->type) {
    case CT_KEY_NUMBER:
        number = take_number(r, k, shown, node);
        store(to, &number, sizeof number);
        break;
    case CT_KEY_MAYBE:
        /* Member by member: a whole ct_maybe would bring stray bytes between its members, and two
         * cases read from the same values could not be compared as memory. */
        number = take_number(r, k, shown, node);
        yes = true;
        store(to + offsetof(ct_maybe, has), &yes, sizeof yes);
        store(to + offsetof(ct_maybe, v), &number, sizeof number);
        break;
    case CT_KEY_READING:
        reading = take_reading(r, k, shown, node);
        store(to, &reading, sizeof reading);
        break;
    case CT_KEY_WHOLE:
        whole = take_whole(r, k, shown, node);
        store(to, &whole, sizeof whole);
        break;
    case CT_KEY_CHOICE:
        whole = take_choice(r, k, k->words, shown, node);
        store(to, &whole, sizeof whole);
        break;
    case CT_KEY_YESNO:
        yes = take_choice(r, k, "no|yes", shown, node) == 1;
        store(to, &yes, sizeof yes);
        break;
    case CT_KEY_WORD: take_word(r, k, shown, node, to); break;
    case CT_KEY_ONLY: take_only(r, k, shown, node); break;
    default: take_text(r, k, shown, node, to); break;
    }
}

/* The default is read like a line of the file, so it cannot mean anything a user could not write.
 */
static void take_default(ct_reader *r, const ct_key *k, const char *shown, char *to)
{
    char text[64];
    snprintf(text, sizeof text, "%s", k->fallback);
    const ct_node node = {.kind = CT_NODE_TEXT, .text = text};
    double v = 0.0;
    take_value(r, k, shown, &node, to);
    if (k->type == CT_KEY_NUMBER || k->type == CT_KEY_WHOLE)
        ct_units_read(text, k->unit, &v, NULL);
    else
        v = ct_reader_word(k->words ? k->words : "no|yes", text);
    ct_reader_assume(r, shown, v, text, k->why);
}

static void list_required(const ct_key_table *keys, const char *section, char *text, size_t size)
{
    size_t n = 0;
    text[0] = '\0';
    for (int i = 0; i < keys->n && n < size; i++) {
        const char *name = ct_key_child_name(&keys->row[i], section);
        if (name && keys->row[i].when == CT_WHEN_REQUIRED)
            n += (size_t)snprintf(text + n, size - n, "%s%s", n ? ", " : "", name);
    }
}

static void missing_fault(ct_reader *r, const ct_key *k, const char *shown, int line)
{
    char needs[160];
    if (k->type == CT_KEY_SECTION) {
        list_required(r->keys, k->path, needs, sizeof needs);
        if (*needs)
            ct_reader_fault(r, CT_CASE_MISSING_KEY, line, shown, "",
                            "this section is missing (%s); it holds at least: %s", k->help, needs);
        else
            ct_reader_fault(r, CT_CASE_MISSING_KEY, line, shown, "",
                            "this section is missing (%s); nothing in it is required: write at "
                            "least '%s: {}'",
                            k->help, shown);
        return;
    }
    ct_reader_fault(r, CT_CASE_MISSING_KEY, line, shown, "", "missing: %s; write it as %s%s%s",
                    k->help, k->unit_text, k->allowed_text ? ", allowed " : "",
                    k->allowed_text ? k->allowed_text : "");
}

static void key_left_out(ct_reader *r, const ct_key *k, const char *shown, int line, char *to)
{
    const double none = NAN;
    if (k->type == CT_KEY_NUMBER) store(to, &none, sizeof none);
    if (k->when == CT_WHEN_REQUIRED) missing_fault(r, k, shown, line);
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

static bool shape_ok(ct_reader *r, ct_node_kind wanted, const char *shown, const ct_node *node)
{
    static const char *const words[] = {[CT_NODE_TEXT] = "a single value",
                                        [CT_NODE_LIST] = "a list ('- ...' lines, or [..., ...])",
                                        [CT_NODE_SECTION] =
                                            "a section of indented 'key: value' lines"};
    if (node->kind == CT_NODE_TEXT && node->text[0] == '\0') {
        ct_reader_fault(r, CT_CASE_EMPTY, node->line, shown, "",
                        "nothing stands here; give %s or take the key out", words[wanted]);
        return false;
    }
    if (node->kind == wanted) return true;
    ct_reader_fault(r, CT_CASE_SHAPE, node->line, shown, node->text ? node->text : "",
                    "%s belongs here, not %s", words[wanted], words[node->kind]);
    return false;
}

/* "[0.5 inwc, 1210 cfm, 480 W]": the keys of the item in the order of the table. */
static void fill_line(ct_reader *r, const ct_key *list, const char *shown, const ct_node *node,
                      char *base)
{
    if (!shape_ok(r, CT_NODE_LIST, shown, node)) return;
    const ct_node *item = node->first;
    int wanted = 0;
    for (int i = 0; i < r->keys->n; i++) {
        const ct_key *k = &r->keys->row[i];
        const char *name = ct_key_child_name(k, list->item);
        if (!name) continue;
        wanted++;
        if (!item) continue;
        char path[CT_PATH_SIZE];
        ct_path_join(path, shown, name);
        if (shape_ok(r, CT_NODE_TEXT, path, item)) take_value(r, k, path, item, base + k->offset);
        item = item->next;
    }
    if (node->n != wanted)
        ct_reader_fault(r, CT_CASE_COUNT, node->line, shown, "",
                        "%d values belong in one line of this list, as %s; here are %d", wanted,
                        list->unit_text, node->n);
}

static void fill_list(ct_reader *r, const ct_key *k, const char *shown, const ct_node *node,
                      char *base)
{
    if (node->n < 1 || node->n > k->max)
        ct_reader_fault(r, CT_CASE_COUNT, node->line, shown, "", "%d in this list; allowed: %s",
                        node->n, k->allowed_text);
    int count;
    memcpy(&count, base + k->mark, sizeof count);
    int i = 0;
    for (const ct_node *item = node->first; item && i < k->max; item = item->next, i++) {
        char path[CT_PATH_SIZE];
        char *to = base + k->offset + (size_t)i * k->size;
        ct_path_item(path, shown, i);
        if (k->type == CT_KEY_LINE)
            fill_line(r, k, path, item, to);
        else
            fill_section(r, &(scope){k->item, path, to, item});
    }
    count += i;
    store(base + k->mark, &count, sizeof count);
}

static void key_given(ct_reader *r, const ct_key *k, const char *shown, const ct_node *node,
                      char *base)
{
    const bool yes = true;
    if (!shape_ok(r, shape_of(k), shown, node)) return;
    if (k->type == CT_KEY_SECTION) {
        if (k->mark != CT_NO_MARK) store(base + k->mark, &yes, sizeof yes);
        fill_section(r, &(scope){k->path, shown, base + k->offset, node});
    } else if (k->type == CT_KEY_LIST || k->type == CT_KEY_LINE) {
        fill_list(r, k, shown, node, base);
    } else if (k->type == CT_KEY_NUMBERS) {
        double list[16] = {0};
        assert(k->max <= 16);
        take_numbers(r, k, shown, node, list);
        store(base + k->offset, list, (size_t)k->max * sizeof list[0]);
    } else {
        take_value(r, k, shown, node, base + k->offset);
    }
}

static bool known_here(const ct_key_table *keys, const char *section, const char *name)
{
    for (int i = 0; i < keys->n; i++) {
        const char *child = ct_key_child_name(&keys->row[i], section);
        if (child && strcmp(child, name) == 0) return true;
    }
    return false;
}

static void check_key(ct_reader *r, const scope *s, const ct_node *entry)
{
    char path[CT_PATH_SIZE];
    char advice[400];
    ct_path_join(path, s->shown, entry->key);
    const ct_node *first = ct_tree_find(s->node, entry->key);
    if (!known_here(r->keys, s->section, entry->key)) {
        advice[0] = '\0';
        if (r->report->n_faults < CT_MAX_CASE_FAULTS) /* costly, and nobody would read it */
            ct_key_suggest(r->keys, s->section, entry->key, advice, sizeof advice);
        ct_reader_fault(r, CT_CASE_UNKNOWN_KEY, entry->line, path, entry->key, "%s", advice);
    } else if (first != entry) {
        ct_reader_fault(r, CT_CASE_DOUBLED_KEY, entry->line, path, entry->text ? entry->text : "",
                        "this key stands in line %d already; take one of the two out", first->line);
    }
}

static void fill_section(ct_reader *r, const scope *s)
{
    if (s->node && !shape_ok(r, CT_NODE_SECTION, s->shown, s->node)) return;
    for (const ct_node *entry = s->node ? s->node->first : NULL; entry; entry = entry->next)
        check_key(r, s, entry);
    for (int i = 0; i < r->keys->n; i++) {
        const ct_key *k = &r->keys->row[i];
        const char *name = ct_key_child_name(k, s->section);
        if (!name) continue;
        char path[CT_PATH_SIZE];
        ct_path_join(path, s->shown, name);
        const ct_node *node = s->node ? ct_tree_find(s->node, name) : NULL;
        if (node)
            key_given(r, k, path, node, s->base);
        else
            key_left_out(r, k, path, s->node && *s->section ? s->node->line : 0,
                         s->base + k->offset);
    }
}

void ct_reader_fill(ct_reader *r, void *base)
{
    fill_section(r, &(scope){"", "", base, r->root});
}

void ct_reader_sort(ct_case_report *report)
{
    const int n = report->n_faults < CT_MAX_CASE_FAULTS ? report->n_faults : CT_MAX_CASE_FAULTS;
    for (int i = 1; i < n; i++) {
        const ct_case_fault f = report->fault[i];
        int j = i;
        for (; j > 0 && report->fault[j - 1].line > f.line; j--)
            report->fault[j] = report->fault[j - 1];
        report->fault[j] = f;
    }
}

ct_status ct_reader_summary(const ct_case_report *report, ct_fault *fault)
{
    const ct_case_fault *f = &report->fault[0];
    return ct_fail(fault, CT_INPUT, NAN, NAN, NAN, "%d fault%s in the file; line %d: %s%s%s",
                   report->n_faults, report->n_faults == 1 ? "" : "s", f->line, f->key,
                   f->key[0] ? ": " : "", f->what);
}

static void fill_case(const ct_node *root, ct_case *c, ct_case_report *report)
{
    ct_reader r = {.keys = &ct_case_keys, .root = root, .c = c, .report = report};
    c->n_indoor = 1; /* the list of candidates adds to it */
    ct_reader_fill(&r, c);
    ct_case_check(&r);
    if (report->n_faults == 0) ct_case_derive(&r);
    ct_reader_sort(report);
}

static ct_status put_overrides(ct_node *root, const ct_override *over, int n,
                               ct_case_report *report)
{
    ct_reader r = {.root = root, .report = report};
    for (int i = 0; i < n; i++) {
        const char *text = over[i].text;
        ct_case_fault bad;
        if (text && !ct_tree_is_text(text, strlen(text), &bad)) {
            ct_reader_fault(&r, bad.kind, over[i].line, over[i].key, text, "%s", bad.what);
            continue;
        }
        const ct_status status = ct_tree_put(root, over[i].key, text, over[i].line);
        if (status == CT_SYSTEM) return status;
        if (status != CT_OK)
            ct_reader_fault(&r, CT_CASE_UNKNOWN_KEY, over[i].line, over[i].key, text ? text : "",
                            "there is nothing in the base case to put this at; an item of a list "
                            "must stand there already, counted from 1");
    }
    return CT_OK;
}

ct_status ct_casefile_parse_over(const char *text, size_t size, const ct_override *over, int n,
                                 ct_case *c, ct_case_report *report, ct_fault *fault)
{
    assert(c && report && (text || size == 0));
    ct_node *root;
    report->n_faults = report->n_assumed = 0;
    ct_status status = ct_tree_read(text, size, &root, &report->fault[0]);
    if (status == CT_OK && !root && n > 0 && !(root = ct_tree_empty())) status = CT_SYSTEM;
    if (status == CT_OK) status = put_overrides(root, over, n, report);
    if (status == CT_SYSTEM) {
        ct_tree_free(root);
        return ct_fail(fault, CT_SYSTEM, NAN, NAN, NAN, "out of memory");
    }
    if (status != CT_OK) {
        report->n_faults = 1;
        return ct_reader_summary(report, fault);
    }
    ct_case scratch;
    memset(&scratch, 0, sizeof scratch);
    fill_case(root, &scratch, report);
    ct_tree_free(root);
    if (report->n_faults > 0) return ct_reader_summary(report, fault);
    memcpy(c, &scratch, sizeof scratch);
    return CT_OK;
}

ct_status ct_casefile_parse(const char *text, size_t size, ct_case *c, ct_case_report *report,
                            ct_fault *fault)
{
    return ct_casefile_parse_over(text, size, NULL, 0, c, report, fault);
}

static ct_status cannot_read(const char *path, ct_fault *fault)
{
    char reason[96]; /* strerror's own buffer is shared between threads */
    const char *text = strerror_r(errno, reason, sizeof reason);
    return ct_fail(fault, CT_SYSTEM, NAN, NAN, NAN, "cannot read '%.80s': %s", path, text);
}

ct_status ct_reader_text(const char *path, char **text, size_t *size, ct_fault *fault)
{
    FILE *f = fopen(path, "rb");
    if (!f) return cannot_read(path, fault);
    char *all = malloc(CT_TREE_BYTES + 1); /* one more, to see that there is more */
    if (!all) {
        fclose(f);
        return ct_fail(fault, CT_SYSTEM, NAN, NAN, NAN, "out of memory");
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

ct_status ct_casefile_load(const char *path, ct_case *c, ct_case_report *report, ct_fault *fault)
{
    assert(path && c && report);
    report->n_faults = report->n_assumed = 0;
    char *text;
    size_t size;
    ct_status status = ct_reader_text(path, &text, &size, fault);
    if (status != CT_OK) return status;
    status = ct_casefile_parse(text, size, c, report, fault);
    free(text);
    return status;
}
