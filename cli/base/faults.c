#include "base/faults.h"

#include <stdio.h>
#include <string.h>

#include "base/complain.h"

static void say_fault(const char *path, const ct_case_fault *fault)
{
    char line[16] = "", given[100] = "";
    if (fault->line > 0) snprintf(line, sizeof line, ":%d", fault->line);
    /* Many sentences quote it already. */
    if (fault->given[0] && !strstr(fault->what, fault->given) && !strstr(fault->key, fault->given))
        snprintf(given, sizeof given, " (given: %s)", fault->given);
    const char *where = fault->line == CT_LINE_OF_PAIR ? COMMAND_LINE : path;
    complain("%s%s: %s%s%s%s", where, line, fault->key, fault->key[0] ? ": " : "", fault->what,
             given);
}

void faults_complain(const char *path, const ct_case_report *report)
{
    const int stored =
        report->n_faults < CT_MAX_CASE_FAULTS ? report->n_faults : CT_MAX_CASE_FAULTS;
    for (int i = 0; i < stored; i++)
        say_fault(path, &report->fault[i]);
    if (report->n_faults > stored)
        complain("%s: and %d more faults", path, report->n_faults - stored);
}

exit_code faults_complain_contradiction(const char *path, const char *keys, const ct_fault *fault)
{
    complain("%s: %s: %s (see the keys %s)", path, ct_status_text(fault->status), fault->what,
             keys);
    return exit_code_of(fault->status);
}

exit_code faults_complain_key(const char *path, const char *key, const ct_fault *fault)
{
    complain("%s: %s: %s", path, key, fault->what);
    return exit_code_of(fault->status);
}
