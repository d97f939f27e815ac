/* Metering files: what `coiltrim metering -o DIR` leaves in DIR: metering.csv with the outdoor
 * temperatures, subcooling.csv with the charges, and superheat.gp with its picture. */
#ifndef METERING_FILES_H
#define METERING_FILES_H

#include <jansson.h>

#include "exit_codes.h"
#include "metering_study.h"

typedef struct {
    const char *dir;
    const char *format; /* "png", "svg" or "pdf" */
    bool si, render;
} metering_files;

/* On failure the message is out. A missing gnuplot is told, but no failure. */
exit_code metering_files_write(const metering_files *files, const metering_study *s);

/* The study as JSON; NULL: out of memory. */
json_t *metering_json(const metering_study *s, bool si);

#endif
