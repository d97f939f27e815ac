/* Metering files: what `coiltrim metering -o DIR` leaves in DIR: metering.csv with the outdoor
 * temperatures, subcooling.csv with the charges, and superheat.gp with its picture. */
#ifndef CLI_METERING_FILES_H
#define CLI_METERING_FILES_H

#include "base/out_folder.h"
#include "metering/facts.h"

/* On failure the message is out. A missing gnuplot is reported, but no failure. */
exit_code metering_files_write(const out_request *to, const metering_study *s);

#endif
