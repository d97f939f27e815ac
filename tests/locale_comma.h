/* A comma locale for tests. Debian's base system has none, and a test that skips itself where the
 * fault could show is no test: one is made in a scratch folder, and the test fails if that fails.
 */
#ifndef LOCALE_COMMA_H
#define LOCALE_COMMA_H

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "check.h"

/* Switches the process to a locale whose decimal sign is a comma; comma_locale_leave undoes it. */
static inline void comma_locale_enter(char dir[64])
{
    char command[256];
    strcpy(dir, "/tmp/ct-locale-XXXXXX");
    check_that("scratch folder", mkdtemp(dir) != NULL);
    snprintf(command, sizeof command, "localedef -f UTF-8 -i de_DE %s/de_DE.UTF-8 >/dev/null", dir);
    check_is("localedef makes de_DE (package locales)", system(command), ==, 0);
    check_is("LOCPATH", setenv("LOCPATH", dir, 1), ==, 0);
    check_that("setlocale", setlocale(LC_ALL, "de_DE.UTF-8") != NULL);
    char probe[16];
    snprintf(probe, sizeof probe, "%.1f", 95.5);
    check_that("the comma locale is in force", strcmp(probe, "95,5") == 0);
}

static inline void comma_locale_leave(const char dir[64])
{
    char command[128];
    setlocale(LC_ALL, "C");
    unsetenv("LOCPATH");
    snprintf(command, sizeof command, "rm -r %s", dir);
    check_is("scratch folder removed", system(command), ==, 0);
}

#endif
