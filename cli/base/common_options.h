/* Options that several verbs have: their rows without the braces, and what is checked alike.
 *
 *   [SI] = {SI_ROW("metric report; SI units in JSON")}, */
#ifndef CLI_BASE_COMMON_OPTIONS_H
#define CLI_BASE_COMMON_OPTIONS_H

#include "base/options.h"

#define SI_ROW(HELP) .name = "si", .kind = OPTION_FLAG, .help = HELP
#define JSON_ROW(HELP) .name = "json", .kind = OPTION_FLAG, .help = HELP
#define QUIET_ROW(HELP) .name = "quiet", .letter = 'q', .kind = OPTION_FLAG, .help = HELP

#define OUTPUT_ROW(SHOWS, HELP)                                                                    \
    .name = "output", .letter = 'o', .kind = OPTION_TEXT, .shows = SHOWS, .help = HELP
#define OUTPUT_FILE_ROW OUTPUT_ROW("FILE", "write to this file instead of standard output")

/* HELP begins "format of": one picture or several. */
#define FORMAT_ROW(HELP)                                                                           \
    .name = "format", .kind = OPTION_CHOICE, .shows = "png|svg|pdf", .fallback = "png", .help = HELP
#define NO_RENDER_ROW(HELP) .name = "no-render", .kind = OPTION_FLAG, .help = HELP

/* Letters as `compare` prints them. */
#define UNIT_ROW                                                                                   \
    .name = "unit", .letter = 'u', .kind = OPTION_CHOICE, .shows = "A|B|C|D|E|F", .fallback = "A", \
    .help = "which indoor unit: A is indoor, B the first of the candidates, and so on"

#define ALTITUDE_ROW(HELP)                                                                         \
    .name = "altitude", .kind = OPTION_VALUE, .unit = CT_UNIT_LENGTH, .shows = "LENGTH",           \
    .fallback = "0 ft", .help = HELP

/* Of the verb `name`: --output DIR and what needs it beside it. EXIT_USAGE: the message is out. */
exit_code common_options_folder(const char *name, const option_value *output,
                                const option_value *format, const option_value *no_render);

/* Index of the indoor unit of --unit; -1, with the message out, when the case has fewer. */
int common_options_unit(const char *name, const option_value *unit, int n_units);

/* Standard input can be read only once: true, with the message out, when more than one of the
 * operands and `also` (an option's file, or NULL) is '-'. */
bool common_options_streams_clash(const char *name, const arguments *, const option_value *also);

#endif
