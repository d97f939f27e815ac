/* Metering report: what `coiltrim metering` shows. */
#ifndef CLI_METERING_TEXT_H
#define CLI_METERING_TEXT_H

#include <stdio.h>

#include "metering/facts.h"

void metering_text_print(FILE *out, const metering_study *s);

#endif
