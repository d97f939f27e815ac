#include <stddef.h>

#include "fluid/refrigerant_tables.h"

const ct_refrigerant_tables *ct_refrigerant_tables_of(const ct_catalog_row *of)
{
    const ct_catalog_row *row;
    int n = 0;

    for (int i = 0; (row = ct_catalog_at(i)); i++) {
        if (row == of) return row->model ? &ct_made_tables[n] : NULL;
        n += row->model != NULL;
    }
    return NULL;
}
