/* Weather files, in every form. */
#include <math.h>

#include "case/weather.h"
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static ct_case_report report;
    ct_weather w;
    ct_fault fault = {.what = ""};
    const ct_status status =
        ct_weather_read((const char *)data, size, 101325.0, &w, &report, &fault);
    HOLDS(status == CT_OK || (fault.what[0] && !w.hour && w.n == 0));
    if (status != CT_INPUT || report.n_faults > 0)
        fuzz_check_report(status, &report, fuzz_lines(data, size));
    for (int i = 0; i < w.n; i++)
        HOLDS(w.hour[i].hours > 0 && isfinite(w.hour[i].T) && w.hour[i].W >= 0);
    ct_weather_free(&w);
    return 0;
}
