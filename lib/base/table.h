/* Table: a CSV file (RFC 4180) as rows of text.
 *
 * Read with libcsv, strictly: comma, or semicolon when the first line has one and no comma; quotes
 * doubled inside quotes. A row may be shorter or longer than the first: that is its own fault, and
 * whoever reads it calls ct_table_cells. Blanks around an unquoted cell and empty lines do not
 * count. Public. */
#ifndef CT_BASE_TABLE_H
#define CT_BASE_TABLE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_TABLE_BYTES (64 * 1024 * 1024) /* largest table taken */

typedef struct ct_table ct_table;

/* CT_INPUT: not CSV; the fault names the line. CT_SYSTEM: memory.
 * The cells live until ct_table_free (NULL is fine). */
CT_API ct_status ct_table_parse(const char *text, size_t size, ct_table **, ct_fault *);
CT_API void ct_table_free(ct_table *);

CT_API int ct_table_rows(const ct_table *);    /* with the first, which is the header as a rule */
CT_API int ct_table_columns(const ct_table *); /* of the first row */
CT_API int ct_table_cells(const ct_table *, int row);  /* of that row */
CT_API bool ct_table_has_semicolons(const ct_table *); /* so its decimal sign is a comma */
CT_API int ct_table_line(const ct_table *, int row);   /* of the file where the row begins */
/* Never NULL: "" where the row is too short. */
CT_API const char *ct_table_cell(const ct_table *, int row, int column);

#ifdef __cplusplus
}
#endif
#endif
