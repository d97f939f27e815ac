/* Decimal comma: numbers of a spreadsheet whose country writes 0,62 for 0.62.
 *
 * Such a spreadsheet parts its columns by semicolons, and that is how it is known. */
#ifndef CLI_BATCH_DECIMAL_COMMA_H
#define CLI_BATCH_DECIMAL_COMMA_H

#include <stdbool.h>
#include <stddef.h>

/* Each number of the cell as the reader of cases writes it: "0,62 inwc" is "0.62 inwc", "1.234,5"
 * is "1234.5". False, with the reason in `out`: a number such as 36,000 or 36.000, which one person
 * means as thousands and another as decimals. */
bool decimal_comma_read(const char *cell, char *out, size_t size);

#endif
