/* The reader of case files: any bytes are a case or a list of faults, and nothing in between. */
#include <math.h>

#include "fuzz.h"

static void check_case(const ct_case *c, const ct_case_report *report)
{
    HOLDS(c->n_indoor >= 1 && c->n_indoor <= CT_MAX_INDOOR);
    HOLDS(c->outdoor.Q_net > 0 && isfinite(c->outdoor.EER) && c->outdoor.EER > 0);
    HOLDS(memchr(c->job.title, '\0', sizeof c->job.title));
    for (int u = 0; u < c->n_indoor; u++)
        HOLDS(c->indoor[u].blower.n_taps >= 0 && c->indoor[u].blower.n_taps <= CT_MAX_TAPS);
    for (int i = 0; i < report->n_assumed; i++)
        HOLDS(report->assumed[i].why[0] &&
              (isfinite(report->assumed[i].v) || report->assumed[i].text[0])); /* number or words */
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static ct_case c, untouched;
    static ct_case_report report;
    ct_fault fault = {.what = ""};
    memset(&c, 0x5A, sizeof c);
    memset(&untouched, 0x5A, sizeof untouched);
    const ct_status status = ct_casefile_parse((const char *)data, size, &c, &report, &fault);
    fuzz_check_report(status, &report, fuzz_lines(data, size));
    if (status == CT_OK)
        check_case(&c, &report);
    else
        HOLDS(fault.what[0] && memcmp(&c, &untouched, sizeof c) == 0);
    return 0;
}
