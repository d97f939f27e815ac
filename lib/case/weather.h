/* Weather: the outdoor air of a season, hour by hour or as a table of bins, from the text of a
 * file.
 *
 * Three forms, told apart by their first lines:
 *   - EPW, the open hourly format whose fields are described in the EnergyPlus documentation
 *     (Auxiliary Programs, "EPW CSV format inputs"): eight header lines, LOCATION to DATA PERIODS,
 *     then one line an hour, dry bulb and dew point in C in the seventh and eighth field, relative
 *     humidity in the ninth; 99.9 and 999 are missing values;
 *   - a CSV with a line of column names among its first three lines: a dry bulb ("dry_bulb_f",
 *     "Dry-bulb (C)") and one of dew point, wet bulb and relative humidity; one line an hour;
 *   - the same with a column "hours": a table of bins, one line each, with the moisture that goes
 *     with it.
 * Hours of a file follow each other without gaps. Every line that is wrong is reported, and the
 * file is then not used. Moisture at the pressure the caller gives: the site's, not the file's. SI;
 * hours in h. Public. */
#ifndef CT_CASE_WEATHER_H
#define CT_CASE_WEATHER_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"
#include "case/report.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_WEATHER_BYTES (16 * 1024 * 1024) /* largest file taken */
#define CT_WEATHER_HOURS 87840              /* lines at most: ten years of hours */
#define CT_WEATHER_PLACE 64

typedef struct {
    double hours; /* h it counts for: 1 in an hourly file */
    double T;     /* K, dry bulb */
    double W;     /* kg/kg */
} ct_weather_hour;

typedef struct {
    bool hourly; /* the hours follow each other; else bins */
    int n;
    ct_weather_hour *hour;        /* owned */
    char place[CT_WEATHER_PLACE]; /* as the file names it, in ASCII, "" when it does not */
} ct_weather;

/* CT_INPUT: the report has a fault for each wrong line, key the column, and *out is empty.
 * CT_SYSTEM: memory. CT_RANGE: p, Pa, is no barometric pressure. What was read is given back by
 * ct_weather_free. */
CT_API ct_status ct_weather_read(const char *text, size_t size, double p, ct_weather *out,
                                 ct_case_report *, ct_fault *);
CT_API void ct_weather_free(ct_weather *); /* of an empty one too */

#ifdef __cplusplus
}
#endif
#endif
