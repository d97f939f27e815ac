#include "show/csv.h"

#include <math.h>
#include <string.h>

#include "base/number_text.h"

void csv_begin(csv_writer *csv, FILE *stream)
{
    *csv = (csv_writer){.stream = stream};
}

static void separate(csv_writer *csv)
{
    if (csv->n_fields++ > 0) fputc(',', csv->stream);
}

void csv_text(csv_writer *csv, const char *text)
{
    separate(csv);
    /* Readers that know remarks, gnuplot among them, would skip a line that begins with '#'. */
    if (text[0] != '#' && !text[strcspn(text, ",\"\r\n")]) {
        fputs(text, csv->stream);
        return;
    }
    fputc('"', csv->stream);
    for (const char *c = text; *c; c++) {
        if (*c == '"') fputc('"', csv->stream);
        fputc(*c, csv->stream);
    }
    fputc('"', csv->stream);
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
