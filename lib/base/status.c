#include "base/status.h"

#include <stdarg.h>
#include <stdio.h>

const char *ct_status_text(ct_status status)
{
    switch (status) {
    case CT_OK: return "ok";
    case CT_INPUT: return "wrong input";
    case CT_RANGE: return "outside the range of the model";
    case CT_NO_ROOT: return "no solution";
    case CT_NO_CONV: return "not converged";
    case CT_SYSTEM: return "system failure";
    }
    return "unknown status";
}

ct_status ct_fail(ct_fault *fault, ct_status status, double value, double low, double high,
                  const char *format, ...)
{
    if (fault) {
        va_list args;
        va_start(args, format);
        vsnprintf(fault->what, sizeof fault->what, format, args);
        va_end(args);
        fault->status = status;
        fault->value = value;
        fault->low = low;
        fault->high = high;
    }
    return status;
}
