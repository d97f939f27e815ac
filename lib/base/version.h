/* Version: which coiltrim this is. Public.
 *
 * The macros say what a program was compiled with, ct_version what it runs with. The number stands
 * here only; the build reads it from here. */
#ifndef CT_BASE_VERSION_H
#define CT_BASE_VERSION_H

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_VERSION_MAJOR 0
#define CT_VERSION_MINOR 1
#define CT_VERSION_PATCH 0

/* Interface of the shared library, the number at the end of libcoiltrim.so. A program made for
 * another number does not start with this library. */
#define CT_INTERFACE 0

/* "0.1.0", of the library that is running. Never NULL. */
CT_API const char *ct_version(void);

#ifdef __cplusplus
}
#endif
#endif
