#include "batch/items.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "base/complain.h"
#include "base/inputs.h"
#include "base/options.h"
#include "base/read_file.h"
#include "base/words.h"
#include "batch/decimal_comma.h"

uint64_t batch_items_hash(uint64_t hash, const char *text, size_t size)
{
    for (size_t i = 0; i < size; i++)
        hash = (hash ^ (unsigned char)text[i]) * UINT64_C(0x100000001b3);
    return hash;
}

static exit_code out_of_memory(void)
{
    complain("batch: out of memory");
    return EXIT_SYSTEM;
}

/* ---- A folder -------------------------------------------------------------------- */

static bool is_case_name(const char *path)
{
    const char *ending = strrchr(path, '.');
    return ending && (strcmp(ending, ".yaml") == 0 || strcmp(ending, ".yml") == 0);
}

static int is_case_file(const struct dirent *entry)
{
    return entry->d_name[0] != '.' && is_case_name(entry->d_name);
}

/* By bytes: the order must not depend on the locale. */
static int by_name(const struct dirent **a, const struct dirent **b)
{
    return strcmp((*a)->d_name, (*b)->d_name);
}

static bool take_file(const char *dir, const char *name, batch_item *item)
{
    char *path;
    if (asprintf(&path, "%s/%s", dir, name) < 0) return false;
    item->name = strdup(name);
    item->text = read_file(path, READ_FILE_CASE, &item->size);
    if (!item->text && asprintf(&item->unread, "cannot be read: %s", read_file_reason()) < 0)
        item->unread = NULL;
    item->stamp = batch_items_hash(BATCH_HASH, item->text ? item->text : "", item->size);
    const bool noted = inputs_note(path);
    free(path);
    return noted && item->name && (item->text || item->unread);
}

static exit_code read_folder(const char *dir, batch_items *items)
{
    struct dirent **entries;
    const int n = scandir(dir, &entries, is_case_file, by_name);
    if (n < 0) {
        complain("%s: the folder cannot be read: %s", dir, strerror(errno));
        return EXIT_SYSTEM;
    }
    items->item = calloc((size_t)n + 1, sizeof *items->item);
    bool good = items->item != NULL;
    for (int i = 0; i < n; i++) {
        if (good) {
            items->n = i + 1;
            good = take_file(dir, entries[i]->d_name, &items->item[i]);
        }
        free(entries[i]);
    }
    free(entries);
    if (!good) return out_of_memory();
    if (n > 0) return EXIT_DONE;
    complain("%s: no case files (*.yaml, *.yml) in this folder", dir);
    return EXIT_INPUT;
}

/* ---- A table --------------------------------------------------------------------- */

enum { PATH_SIZE = 96 };

/* "candidates[2].coil.size" as the table of keys has it: "indoor.coil.size". */
static void general_path(const char *key, char path[PATH_SIZE])
{
    static const char candidates[] = "candidates[";
    const char *rest = key;
    size_t n = 0;
    if (strncmp(key, candidates, sizeof candidates - 1) == 0 && (rest = strchr(key, ']')))
        n = (size_t)snprintf(path, PATH_SIZE, "indoor");
    rest = rest && rest != key ? rest + 1 : key;
    for (; *rest && n + 1 < PATH_SIZE; rest++) {
        const bool inside = n > 0 && path[n - 1] == '[' && *rest != ']';
        if (!inside) path[n++] = *rest;
    }
    path[n < PATH_SIZE ? n : PATH_SIZE - 1] = '\0';
}

static bool known_key(const char *key, const char **near)
{
    enum { MOST = 400 };
    const char *words[MOST];
    char full[CT_KEY_PATH], path[PATH_SIZE];
    ct_key_row row;
    int n = 0;
    ct_casefile_path(key, full);
    general_path(full, path);
    for (; n < MOST && ct_casefile_key(n, &row); n++) {
        if (strcmp(row.key, path) == 0) return true;
        words[n] = row.key;
    }
    *near = ct_words_nearest(path, words, n);
    return false;
}

enum { SAME_SIZE = 400 };

/* The keys that have this for their last part: of several it says which. False: at most one. */
static bool of_several(const char *key, char same[SAME_SIZE])
{
    ct_key_row row;
    int n = 0;
    size_t used = 0;
    for (int i = 0; ct_casefile_key(i, &row); i++) {
        const char *dot = strrchr(row.key, '.');
        if (!dot || strcmp(dot + 1, key) != 0) continue;
        if (used < SAME_SIZE)
            used += (size_t)snprintf(same + used, SAME_SIZE - used, "%s%s", n ? ", " : "", row.key);
        n++;
    }
    return n > 1;
}

static void complain_unknown(const char *source, const ct_table *t, int k, const char *near)
{
    const char *key = ct_table_cell(t, 0, k);
    char same[SAME_SIZE];
    const int line = ct_table_line(t, 0);
    if (of_several(key, same))
        complain("%s:%d: column %d: more than one key is called '%s': write one of %s", source,
                 line, k + 1, key, same);
    else
        complain("%s:%d: column %d: no case key '%s'%s%s%s", source, line, k + 1, key,
                 near ? "; did you mean '" : "", near ? near : "", near ? "'?" : "");
}

static exit_code check_heading(const char *source, const ct_table *t)
{
    enum { MOST = 1000 };
    exit_code code = EXIT_DONE;
    if (ct_table_columns(t) > MOST) {
        complain("%s: %d columns given, allowed are at most %d", source, ct_table_columns(t), MOST);
        return EXIT_INPUT;
    }
    for (int k = 0; k < ct_table_columns(t); k++) {
        const char *key = ct_table_cell(t, 0, k), *near = NULL;
        bool twice = false;
        for (int i = 0; i < k; i++)
            twice = twice || strcmp(key, ct_table_cell(t, 0, i)) == 0;
        if (twice)
            complain("%s:%d: column %d: '%s' is in the header twice; keep one", source,
                     ct_table_line(t, 0), k + 1, key);
        else if (strcmp(key, "case") != 0 && !known_key(key, &near))
            complain_unknown(source, t, k, near);
        else
            continue;
        code = EXIT_INPUT;
    }
    return code;
}

static int name_column(const ct_table *t)
{
    for (int k = 0; k < ct_table_columns(t); k++)
        if (strcmp(ct_table_cell(t, 0, k), "case") == 0) return k;
    return -1;
}

static bool take_row(const batch_items *items, int row, int name_at, batch_item *item)
{
    const ct_table *t = items->table;
    const char *name = name_at >= 0 ? ct_table_cell(t, row, name_at) : "";
    char text[32];
    snprintf(text, sizeof text, "row %d", row);
    item->name = strdup(name[0] ? name : text);
    item->row = row;
    const int cells = ct_table_cells(t, row);
    if (cells != ct_table_columns(t) &&
        asprintf(&item->wrong, "line %d: %d cells where the header has %d", ct_table_line(t, row),
                 cells, ct_table_columns(t)) < 0)
        return false;
    item->stamp = batch_items_hash(BATCH_HASH, items->base ? items->base : "", items->base_size);
    item->stamp = batch_items_hash(item->stamp, (const char *)&cells, sizeof cells);
    for (int k = 0; k < ct_table_columns(t); k++) {
        const char *key = ct_table_cell(t, 0, k), *cell = ct_table_cell(t, row, k);
        item->stamp = batch_items_hash(item->stamp, key, strlen(key) + 1);
        item->stamp = batch_items_hash(item->stamp, cell, strlen(cell) + 1);
    }
    return item->name != NULL;
}

static exit_code take_rows(const char *source, batch_items *items)
{
    const int rows = ct_table_rows(items->table), name_at = name_column(items->table);
    if (rows < 2) {
        complain("%s: a header row of keys and at least one row of values are needed", source);
        return EXIT_INPUT;
    }
    items->item = calloc((size_t)rows, sizeof *items->item);
    if (!items->item) return out_of_memory();
    for (int i = 0; i + 1 < rows; i++) {
        items->n = i + 1;
        if (!take_row(items, i + 1, name_at, &items->item[i])) return out_of_memory();
    }
    return EXIT_DONE;
}

static exit_code read_table(const char *source, const char *base, batch_items *items)
{
    ct_fault fault;
    if (!inputs_note(source) || (base && !inputs_note(base))) return EXIT_SYSTEM;
    size_t size;
    char *text = read_file(source, CT_TABLE_BYTES + 1, &size);
    if (!text) {
        complain("%s: cannot be read: %s", source, read_file_reason());
        return EXIT_SYSTEM;
    }
    const ct_status status = ct_table_parse(text, size, &items->table, &fault);
    free(text);
    if (status != CT_OK) {
        complain("%s: %s", source, fault.what);
        return exit_code_of(status);
    }
    if (base && !(items->base = read_file(base, READ_FILE_CASE, &items->base_size))) {
        complain("%s: cannot be read: %s", base, read_file_reason());
        return EXIT_SYSTEM;
    }
    const exit_code code =
        ct_table_rows(items->table) ? check_heading(source, items->table) : EXIT_DONE;
    return code == EXIT_DONE ? take_rows(source, items) : code;
}

/* By name, and those of one name in the order of the source. */
static int by_item_name(const void *a, const void *b)
{
    const batch_item *x = *(const batch_item *const *)a, *y = *(const batch_item *const *)b;
    const int order = strcmp(x->name, y->name);
    return order ? order : (x > y) - (x < y);
}

/* Results are found again by name. Sorted, because a table may have a million rows. */
static exit_code check_names(const char *source, const batch_items *items)
{
    const batch_item **sorted = calloc((size_t)items->n, sizeof *sorted), *twice = NULL;
    if (!sorted) return out_of_memory();
    for (int i = 0; i < items->n; i++)
        sorted[i] = &items->item[i];
    qsort(sorted, (size_t)items->n, sizeof *sorted, by_item_name);
    for (int i = 1; i < items->n; i++)
        if (strcmp(sorted[i]->name, sorted[i - 1]->name) == 0 && (!twice || sorted[i] < twice))
            twice = sorted[i];
    free(sorted);
    if (!twice) return EXIT_DONE;
    complain("%s: two cases are called '%s'; give each its own name", source, twice->name);
    return EXIT_INPUT;
}

static void free_item(batch_item *item)
{
    free(item->name);
    free(item->text);
    free(item->unread);
    free(item->wrong);
}

/* What changes every case changes every stamp. */
static void stamp_pairs(batch_items *items)
{
    for (int i = 0; i < items->n; i++)
        for (int k = 0; k < items->pairs.n; k++) {
            const ct_override *o = &items->pairs.item[k];
            uint64_t *stamp = &items->item[i].stamp;
            *stamp = batch_items_hash(*stamp, o->key, strlen(o->key) + 1);
            *stamp = batch_items_hash(*stamp, o->text, strlen(o->text) + 1);
        }
}

void batch_items_share(batch_items *items, int part, int parts)
{
    const long long n = items->n;
    const int from = (int)(n * (part - 1) / parts), to = (int)(n * part / parts);
    for (int i = 0; i < items->n; i++)
        if (i < from || i >= to) free_item(&items->item[i]);
    memmove(items->item, items->item + from, (size_t)(to - from) * sizeof *items->item);
    items->n = to - from;
}

exit_code batch_items_read(const char *source, const char *base, const ct_overrides *pairs,
                           batch_items *items)
{
    struct stat there;
    *items = (batch_items){.pairs = *pairs};
    if (stat(source, &there) != 0) {
        complain("%s: cannot be read: %s", source, strerror(errno));
        return EXIT_SYSTEM;
    }
    if (S_ISREG(there.st_mode) && is_case_name(source)) {
        complain("%s: this is one case; batch takes a folder or a table of jobs; for one case use "
                 "'coiltrim sweep'",
                 source);
        return EXIT_USAGE;
    }
    if (S_ISDIR(there.st_mode) && base) {
        complain("batch: --base needs a table; the files of a folder are whole cases");
        return EXIT_USAGE;
    }
    exit_code code =
        S_ISDIR(there.st_mode) ? read_folder(source, items) : read_table(source, base, items);
    if (code == EXIT_DONE) code = check_names(source, items);
    stamp_pairs(items);
    if (code != EXIT_DONE) batch_items_free(items);
    return code;
}

void batch_items_free(batch_items *items)
{
    for (int i = 0; i < items->n; i++)
        free_item(&items->item[i]);
    free(items->item);
    free(items->base);
    ct_table_free(items->table);
    *items = (batch_items){0};
}

/* ---- One case -------------------------------------------------------------------- */

enum { CELL_SIZE = 300 };

/* What a row says, with room for the cells that are written anew. */
typedef struct {
    ct_override *over;
    char (*cell)[CELL_SIZE];
    int n;
} row_keys;

static bool is_text_key(const char *key)
{
    char full[CT_KEY_PATH], path[PATH_SIZE];
    ct_key_row row;
    ct_casefile_path(key, full);
    general_path(full, path);
    for (int i = 0; ct_casefile_key(i, &row); i++)
        if (strcmp(row.key, path) == 0) return strncmp(row.unit, "text", 4) == 0;
    return false;
}

static ct_status wrong_cell(const ct_table *t, int row, int column, const char *why,
                            ct_case_report *report, ct_fault *fault)
{
    ct_case_fault *f = &report->fault[0];
    report->n_faults = 1;
    *f = (ct_case_fault){.kind = CT_CASE_NUMBER, .line = ct_table_line(t, row)};
    snprintf(f->key, sizeof f->key, "%s", ct_table_cell(t, 0, column));
    snprintf(f->what, sizeof f->what, "%s", why);
    return ct_fault_say(fault, CT_INPUT, "%s", why);
}

/* The row's cells as overrides, a decimal comma turned into a point. */
static ct_status take_cells(const batch_items *items, int row, row_keys *r, ct_case_report *report,
                            ct_fault *fault)
{
    const ct_table *t = items->table;
    const bool commas = ct_table_has_semicolons(t);
    for (int k = 0; k < ct_table_columns(t); k++) {
        const char *key = ct_table_cell(t, 0, k), *text = ct_table_cell(t, row, k);
        if (!text[0] || strcmp(key, "case") == 0) continue;
        /* A list's commas part its values: it is written as in a case file. */
        const bool is_list = text[0] == '[' || text[0] == '{';
        if (commas && !is_list && strpbrk(text, ".,") && !is_text_key(key)) {
            if (!decimal_comma_read(text, r->cell[k], CELL_SIZE))
                return wrong_cell(t, row, k, r->cell[k], report, fault);
            text = r->cell[k];
        }
        r->over[r->n++] =
            (ct_override){key, strcmp(text, "-") == 0 ? NULL : text, ct_table_line(t, row)};
    }
    return CT_OK;
}

ct_status batch_items_case(const batch_items *items, int i, ct_case *c, ct_case_report *report,
                           ct_fault *fault)
{
    const batch_item *item = &items->item[i];
    const size_t columns = item->text ? 0 : (size_t)ct_table_columns(items->table);
    row_keys r = {.over = calloc(columns + (size_t)items->pairs.n + 1, sizeof *r.over),
                  .cell = calloc(columns + 1, sizeof *r.cell)};
    const bool room = r.over && r.cell;
    ct_status status = room ? CT_OK : ct_fail(fault, CT_SYSTEM, 0, 0, 0, "out of memory");
    report->n_faults = report->n_assumed = 0;
    if (room && !item->text) status = take_cells(items, item->row, &r, report, fault);
    for (int k = 0; room && status == CT_OK && k < items->pairs.n; k++)
        r.over[r.n++] = items->pairs.item[k];
    const ct_overrides over = {r.over, r.n};
    if (status == CT_OK && item->text)
        status = ct_casefile_parse_over(item->text, item->size, &over, c, report, fault);
    else if (status == CT_OK)
        status = ct_casefile_parse_over(items->base ? items->base : "", items->base_size, &over, c,
                                        report, fault);
    free(r.over);
    free(r.cell);
    return status;
}
