#include "show/csv.h"

#include <math.h>
#include <string.h>

#include "base/number_text.h"
#include "base/utf8.h"

void csv_begin(csv_writer *csv, FILE *stream)
{
    *csv = (csv_writer){.stream = stream};
}

static void separate(csv_writer *csv)
{
    if (csv->n_fields++ > 0) fputc(',', csv->stream);
}

/* A spreadsheet takes a cell that begins so for a formula and runs it; an apostrophe in front makes
 * it text. The wide forms of the four signs count as well (U+FF0B, U+FF0D, U+FF1D, U+FF20). */
static bool is_formula(const char *text)
{
    static const char *const signs[] = {
        "=", "+", "-", "@", "\xef\xbc\x8b", "\xef\xbc\x8d", "\xef\xbc\x9d", "\xef\xbc\xa0"};
    for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++) {
        const size_t n = strlen(signs[i]);
        if (strncmp(text, signs[i], n) == 0 && text[n]) return true;
    }
    return false;
}

/* Readers that know remarks, gnuplot among them, would skip a line that begins with '#'; others
 * take blanks at either end away. */
static bool needs_quotes(const char *text)
{
    const size_t n = strlen(text);
    return text[0] == '#' || text[strcspn(text, ",\"")] ||
           (n > 0 && (text[0] == ' ' || text[n - 1] == ' '));
}

static void put_cleaned(FILE *stream, const char *text)
{
    for (const char *c = text; *c;) {
        const int n = utf8_length(c);
        const bool shown = n > 0 && !utf8_is_unsafe(c, n);
        if (*c == '"') fputc('"', stream);
        if (shown && n == 1)
            fputc(*c, stream);
        else if (shown)
            fwrite(c, 1, (size_t)n, stream);
        else
            fputc(n == 0 || !strchr("\t\r\n", *c) ? '?' : ' ', stream);
        c += n ? n : 1;
    }
}

void csv_text(csv_writer *csv, const char *text)
{
    const bool quoted = needs_quotes(text);
    separate(csv);
    if (quoted) fputc('"', csv->stream);
    if (is_formula(text)) fputc('\'', csv->stream);
    put_cleaned(csv->stream, text);
    if (quoted) fputc('"', csv->stream);
}

void csv_number(csv_writer *csv, double v, int digits)
{
    char text[NUMBER_TEXT_SIZE];
    separate(csv);
    if (!number_text(text, v, digits)) csv->fault = true;
    fputs(text, csv->stream);
}

void csv_absent(csv_writer *csv)
{
    separate(csv);
}

void csv_quantity(csv_writer *csv, quantity q, double v, int digits, bool si)
{
    if (isfinite(v))
        csv_number(csv, quantity_show(quantity_for_programs(q, si), v), digits);
    else
        csv_absent(csv);
}

void csv_heading(csv_writer *csv, const char *name, quantity q, bool si)
{
    char key[96];
    quantity_key(key, sizeof key, name, q, si);
    csv_text(csv, key);
}

void csv_end_row(csv_writer *csv)
{
    fputs("\r\n", csv->stream);
    if (csv->n_columns == 0) csv->n_columns = csv->n_fields;
    if (csv->n_fields != csv->n_columns) csv->fault = true;
    csv->n_fields = 0;
}

bool csv_good(const csv_writer *csv)
{
    return !csv->fault && csv->n_fields == 0 && !ferror(csv->stream);
}
