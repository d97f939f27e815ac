#include "base/status.h"

#include <math.h>
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

static void fill(ct_fault *fault, ct_status status, const char *format, va_list args)
{
    vsnprintf(fault->what, sizeof fault->what, format, args);
    fault->status = status;
    fault->value = NAN;
    fault->low = NAN;
    fault->high = NAN;
}

ct_status ct_fault_say(ct_fault *fault, ct_status status, const char *format, ...)
{
    if (!fault) return status;
    va_list args;
    va_start(args, format);
    fill(fault, status, format, args);
    va_end(args);
    return status;
}

ct_status ct_fail(ct_fault *fault, ct_status status, double value, double low, double high,
                  const char *format, ...)
{
    if (!fault) return status;
    va_list args;
    va_start(args, format);
    fill(fault, status, format, args);
    va_end(args);
    fault->value = value;
    fault->low = low;
    fault->high = high;
    return status;
}
