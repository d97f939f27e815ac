#include "base/table.h"

#include <assert.h>
#include <csv.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

struct ct_table {
    char *text; /* all cells, each ended by a NUL */
    size_t used, room;
    size_t *cell; /* offsets into text */
    size_t n_cells, cell_room;
    struct row {
        int line, n;  /* where it begins, cells */
        size_t first; /* of its cells */
    } * row;
    int n_rows, row_room;
    int columns;
    bool semicolons;
};

/* What the callbacks of the parser work on. */
typedef struct {
    ct_table *t;
    int line, row_line; /* being read, and where the row began */
    bool row_open;
    int cells; /* of the row so far */
    bool memory_out, has_nul;
} reading;

/* The block with room for `wanted` of `size`, which is at least one. NULL: memory; the old block
 * stays valid. */
static void *grown(void *block, size_t *room, size_t wanted, size_t size)
{
    size_t next = *room ? *room : 256;

    if (wanted <= *room) return block;
    while (next < wanted)
        next *= 2;
    void *larger = realloc(block, next * size);
    if (larger) *room = next;
    return larger;
}

static bool room_for_cell(ct_table *t, size_t length)
{
    char *text = grown(t->text, &t->room, t->used + length + 1, 1);
    if (!text) return false;
    t->text = text;
    size_t *cell = grown(t->cell, &t->cell_room, t->n_cells + 1, sizeof *t->cell);
    if (!cell) return false;
    t->cell = cell;
    return true;
}

static void take_cell(void *value, size_t length, void *context)
{
    reading *r = context;
    ct_table *t = r->t;

    if (r->memory_out || !room_for_cell(t, length)) {
        r->memory_out = true;
        return;
    }
    if (length) memcpy(t->text + t->used, value, length);
    t->text[t->used + length] = '\0';
    if (strlen(t->text + t->used) != length) r->has_nul = true;
    t->cell[t->n_cells++] = t->used;
    t->used += length + 1;
    r->cells++;
}

static void take_row(int ending, void *context)
{
    reading *r = context;
    ct_table *t = r->t;
    size_t room = (size_t)t->row_room;
    const int n = r->cells;

    (void)ending;
    r->row_open = false;
    r->cells = 0;
    if (t->n_rows == 0) t->columns = n;
    struct row *row =
        r->memory_out ? NULL : grown(t->row, &room, (size_t)t->n_rows + 1, sizeof *row);
    if (!row) {
        r->memory_out = true;
        return;
    }
    t->row = row;
    t->row_room = (int)room;
    t->row[t->n_rows++] = (struct row){r->row_line, n, t->n_cells - (size_t)n};
}

/* Line by line, for libcsv itself does not count them. */
static bool feed(struct csv_parser *p, const char *text, size_t size, reading *r)
{
    while (size > 0) {
        const char *end = memchr(text, '\n', size);
        size_t n = end ? (size_t)(end - text) + 1 : size;
        bool blank = n <= 2 && (text[0] == '\n' || text[0] == '\r');
        r->line++;
        if (!r->row_open && !blank) {
            r->row_open = true;
            r->row_line = r->line;
        }
        if (csv_parse(p, text, n, take_cell, take_row, r) != n) return false;
        text += n;
        size -= n;
    }
    return csv_fini(p, take_cell, take_row, r) == 0;
}

static ct_status conclude(bool parsed, const reading *r, ct_fault *fault)
{
    if (r->memory_out) return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    if (!parsed)
        return ct_fail(
            fault, CT_INPUT, r->line, NAN, NAN,
            "line %d: not CSV: a quote where none can be, or one that is not closed; put a "
            "cell with a quote or comma in quotes and double the quotes inside",
            r->row_open ? r->row_line : r->line);
    if (r->has_nul) return ct_fault_say(fault, CT_INPUT, "holds a NUL character: not a text file");
    return CT_OK;
}

/* A spreadsheet of a country with a decimal comma parts its columns by semicolons: seen by a first
 * line that has them and no comma. */
static bool has_semicolons(const char *text, size_t size)
{
    const char *end = memchr(text, '\n', size);
    const size_t n = end ? (size_t)(end - text) : size;
    return memchr(text, ';', n) != NULL && memchr(text, ',', n) == NULL;
}

ct_status ct_table_parse(const char *text, size_t size, ct_table **out, ct_fault *fault)
{
    struct csv_parser p;
    ct_table *t;

    if (!text) return ct_fault_say(fault, CT_INPUT, "no text given");
    if (size > CT_TABLE_BYTES)
        return ct_fail(fault, CT_INPUT, (double)size, 0, CT_TABLE_BYTES,
                       "larger than 64 MiB: not a table of cases");
    if (size >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0) {
        text += 3;
        size -= 3;
    }
    t = calloc(1, sizeof *t);
    if (!t || csv_init(&p, CSV_STRICT | CSV_STRICT_FINI) != 0) {
        free(t);
        return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    }
    t->semicolons = has_semicolons(text, size);
    if (t->semicolons) csv_set_delim(&p, ';');
    reading r = {.t = t};
    bool parsed = feed(&p, text, size, &r);
    if (!parsed && csv_error(&p) == CSV_ENOMEM) r.memory_out = true;
    csv_free(&p);
    ct_status status = conclude(parsed, &r, fault);
    if (status == CT_OK)
        *out = t;
    else
        ct_table_free(t);
    return status;
}

void ct_table_free(ct_table *t)
{
    if (!t) return;
    free(t->text);
    free(t->cell);
    free(t->row);
    free(t);
}

int ct_table_rows(const ct_table *t)
{
    return t->n_rows;
}

int ct_table_columns(const ct_table *t)
{
    return t->columns;
}

int ct_table_line(const ct_table *t, int row)
{
    assert(row >= 0 && row < t->n_rows);
    return t->row[row].line;
}

int ct_table_cells(const ct_table *t, int row)
{
    assert(row >= 0 && row < t->n_rows);
    return t->row[row].n;
}

bool ct_table_has_semicolons(const ct_table *t)
{
    return t->semicolons;
}

const char *ct_table_cell(const ct_table *t, int row, int column)
{
    assert(row >= 0 && row < t->n_rows && column >= 0);
    if (column >= t->row[row].n) return "";
    return t->text + t->cell[t->row[row].first + (size_t)column];
}
