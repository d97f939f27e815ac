/* Weather row: one line of a weather file as cells. Internal.
 *
 * EPW and hourly CSV files have lines of different lengths in one file, which base/table.h rightly
 * refuses: here a line is cut at its commas, blanks and quotes around a cell are taken off, and
 * cells past the last one that any form uses do not count. */
#ifndef CT_CASE_WEATHER_ROW_H
#define CT_CASE_WEATHER_ROW_H

#include <stdbool.h>

#define CT_WEATHER_CELLS 96

typedef struct {
    char *rest; /* of the text, which is cut up in place; ends with a NUL */
    int line;   /* of the row read last, from 1 */
    int n;      /* its cells */
    char *cell[CT_WEATHER_CELLS];
} ct_weather_row;

/* The next line that is not empty. False: there is none. */
bool ct_weather_row_next(ct_weather_row *);

/* Cell i; "" past the end of the line. */
const char *ct_weather_cell(const ct_weather_row *, int i);

#endif
