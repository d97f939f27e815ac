/* Key rows: how a row of a table of keys is written. Internal.
 *
 * Each macro keeps a row on a few lines and sets the text for people and the limit for the reader
 * from the same literal, so that the two cannot part. */
#ifndef CT_CASE_KEY_ROWS_H
#define CT_CASE_KEY_ROWS_H

#include "case/key.h"

#define WHAT(t, u, example) .type = CT_KEY_##t, .unit = CT_UNIT_##u, .unit_text = example
#define TEMPERATURE(t, x) WHAT(t, TEMPERATURE, "temperature, " x)
#define DELTA_T(t, x) WHAT(t, DELTA_T, "temperature difference, " x)
#define POWER(t, x) WHAT(t, POWER, "power, " x)
#define EER(t, x) WHAT(t, EER, "efficiency, " x)
#define AIRFLOW(t, x) WHAT(t, AIRFLOW, "airflow, " x)
#define PRESSURE(t, x) WHAT(t, PRESSURE, "pressure, " x)
#define GAUGE(t, x) WHAT(t, PRESSURE_GAUGE, "gauge pressure, " x)
#define LENGTH(t, x) WHAT(t, LENGTH, "length, " x)
#define AREA(t, x) WHAT(t, AREA, "area, " x)
#define FRACTION(t, x) WHAT(t, FRACTION, "fraction, " x)
#define TIME(t, x) WHAT(t, TIME, "time, " x)
#define CURRENT(t, x) WHAT(t, CURRENT, "current, " x)
#define VOLTAGE(t, x) WHAT(t, VOLTAGE, "voltage, " x)
#define WATER(t, x) WHAT(t, WATER, "water, " x)
#define VOLUME(t, x) WHAT(t, VOLUME, "volume, " x)
#define NUMBER(t, x) WHAT(t, NONE, "number, " x)
#define TEXT(field_size) .type = CT_KEY_TEXT, .size = (field_size), .unit_text = "text"
#define CHOICE(w) .type = CT_KEY_CHOICE, .words = w, .unit_text = "word", .allowed_text = w
#define YESNO                                                                                      \
    .type = CT_KEY_YESNO, .unit_text = "yes or no", .allowed_text = "yes|no", .words = "no|yes",   \
    .also = "false=no|true=yes|off=no|on=yes|n=no|y=yes"
#define FROM(l, h) .low = l, .high = h, .allowed_text = l " to " h

#define REQUIRED .when = CT_WHEN_REQUIRED, .when_text = "required"
#define OPTIONAL .when = CT_WHEN_OPTIONAL, .when_text = "optional"
#define ONE_OF(other) .when = CT_WHEN_DERIVED, .when_text = "this or " other
#define DEFAULT(v, because)                                                                        \
    .when = CT_WHEN_DEFAULT, .fallback = v, .when_text = "default " v, .why = because
#define DERIVED(v, because)                                                                        \
    .when = CT_WHEN_DERIVED, .fallback = v, .when_text = "default " v, .why = because
#define ESTIMATED(when_is, because)                                                                \
    .when = CT_WHEN_DERIVED, .when_text = "estimated " when_is, .why = because
#define NEEDED_WITH(what) .when = CT_WHEN_DERIVED, .when_text = "required with " what

#define SECTION(o) .type = CT_KEY_SECTION, .unit_text = "section", .offset = (o), .mark = CT_NO_MARK
#define MARKED(o, m) .type = CT_KEY_SECTION, .unit_text = "section", .offset = (o), .mark = (m)
#define ALWAYS .when = CT_WHEN_ALWAYS, .when_text = "optional"
#define AT(type_name, field) .offset = offsetof(type_name, field)
#define HELP(text) .help = text
#define STAMPED .stamped = true     /* a bore: ct_casefile_bore */
#define SHORT(names) .brief = names /* "static|esp": the everyday keys */
#define ALSO(names) .also = names   /* as ct_key_word and ct_key_child read them */

#define PRACTICE "common practice, no source"

#endif
