/* Heat pump: heating.csv, capacity and head over airflow and outdoors, and its picture's script. */
#ifndef CLI_SWEEP_HEATING_FILES_H
#define CLI_SWEEP_HEATING_FILES_H

#include "base/out_folder.h"
#include "judge/sweep_job.h"

typedef struct {
    const char *dir, *title; /* of the job */
    bool si;
} heating_files;

/* Adds the script to those to be drawn. What a heat pump of an earlier run left is removed where
 * there is none now. False: the message is out. */
bool heating_files_write(const heating_files *, const ct_sweep_job *, out_scripts *);

#endif
