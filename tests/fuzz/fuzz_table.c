/* Tables of cases: CSV, then each row put over an empty case as overrides. */
#include "base/table.h"
#include "fuzz.h"

enum { MAX_KEYS = 64, MAX_ROWS = 4 };

static void put_row(const ct_table *table, int row, int n, int lines)
{
    static ct_case c;
    static ct_case_report report;
    ct_override over[MAX_KEYS];
    ct_fault fault = {.what = ""};
    for (int k = 0; k < n; k++) {
        const char *cell = ct_table_cell(table, row, k);
        over[k] = (ct_override){.key = ct_table_cell(table, 0, k),
                                .text = strcmp(cell, "-") == 0 ? NULL : cell,
                                .line = ct_table_line(table, row)};
    }
    const ct_status status =
        ct_casefile_parse_over("", 0, &(ct_overrides){over, n}, &c, &report, &fault);
    fuzz_check_report(status, &report, lines);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    ct_table *table = NULL;
    ct_fault fault = {.what = ""};
    if (ct_table_parse((const char *)data, size, &table, &fault) != CT_OK) {
        HOLDS(fault.what[0] && !table);
        return 0;
    }
    const int columns = ct_table_columns(table), rows = ct_table_rows(table);
    for (int row = 1; row < rows && row <= MAX_ROWS; row++)
        put_row(table, row, columns < MAX_KEYS ? columns : MAX_KEYS, fuzz_lines(data, size));
    ct_table_free(table);
    return 0;
}
