/* Metering report: what `coiltrim metering` shows. */
#ifndef METERING_TEXT_H
#define METERING_TEXT_H

#include <stdio.h>

#include "metering_study.h"

void metering_text_print(FILE *out, const metering_study *s);

#endif
