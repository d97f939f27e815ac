#include "base/version.h"

#define TEXT_OF(NUMBER) #NUMBER
#define DOTTED(MAJOR, MINOR, PATCH) TEXT_OF(MAJOR) "." TEXT_OF(MINOR) "." TEXT_OF(PATCH)

const char *ct_version(void)
{
    return DOTTED(CT_VERSION_MAJOR, CT_VERSION_MINOR, CT_VERSION_PATCH);
}
