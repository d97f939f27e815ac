/* Faults: what is wrong with a file, as lines `file:line: key: what is wrong, what is allowed`. */
#ifndef CLI_BASE_FAULTS_H
#define CLI_BASE_FAULTS_H

#include "base/exit_codes.h"
#include "base/status.h"
#include "case/report.h"

/* Where a fault of a pair is. */
#define COMMAND_LINE "command line"

/* A line for each fault. */
void faults_complain(const char *path, const ct_case_report *report);

/* The equipment does not go together: the fault's own words, and the keys it may come from. */
exit_code faults_complain_contradiction(const char *path, const char *keys, const ct_fault *fault);

/* The fault's words behind the key that they are about. */
exit_code faults_complain_key(const char *path, const char *key, const ct_fault *fault);

#endif
