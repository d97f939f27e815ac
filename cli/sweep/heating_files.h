/* Heat pump: heating.csv, capacity and head over airflow and outdoors, and its picture's script. */
#ifndef CLI_SWEEP_HEATING_FILES_H
#define CLI_SWEEP_HEATING_FILES_H

#include "base/out_folder.h"
#include "sweep/columns.h"
#include "sweep/files.h"

/* Adds the script to those to be drawn. What a cooling-only unit left from an earlier run is removed.
 * False: the message is out. */
bool heating_files_write(const sweep_files *, const sweep_view *, out_scripts *);

#endif
