/* Table: a CSV file (RFC 4180) as rows of text.
 *
 * Read with libcsv, strictly: comma, or semicolon when the first line has one and no comma; quotes
 * doubled inside quotes, every row as long as the first.
 * Blanks around an unquoted cell and empty lines do not count. Public. */
#ifndef CT_BASE_CSVREAD_H
#define CT_BASE_CSVREAD_H

#include <stddef.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_TABLE_BYTES (64 * 1024 * 1024) /* largest table taken */

typedef struct ct_table ct_table;

/* CT_INPUT: not CSV, or a row of another length; the fault names the line. CT_SYSTEM: memory.
 * The cells live until ct_table_free (NULL is fine). */
CT_API ct_status ct_table_parse(const char *text, size_t size, ct_table **, ct_fault *);
CT_API void ct_table_free(ct_table *);

CT_API int ct_table_rows(const ct_table *); /* with the first, which is the header as a rule */
CT_API int ct_table_columns(const ct_table *);
CT_API int ct_table_line(const ct_table *, int row); /* of the file where the row begins */
CT_API const char *ct_table_cell(const ct_table *, int row, int column); /* never NULL */

#ifdef __cplusplus
}
#endif
#endif
