/* The reader of readings: as for cases, and every reading taken has a number and an uncertainty. */
#include <math.h>

#include "case/readings.h"
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static ct_readings readings;
    static ct_case_report report;
    ct_fault fault = {.what = ""};
    const ct_status status =
        ct_readings_parse((const char *)data, size, &readings, &report, &fault);
    fuzz_check_report(status, &report, fuzz_lines(data, size));
    if (status != CT_OK) HOLDS(fault.what[0]);
    for (int i = 0; status == CT_OK && i < CT_READING_COUNT; i++) {
        const ct_reading *r = &readings.r[i];
        if (r->has) HOLDS(isfinite(r->v) && isfinite(r->u) && r->u > 0);
    }
    return 0;
}
