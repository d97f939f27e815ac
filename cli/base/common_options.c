#include "base/common_options.h"

#include "base/complain.h"
#include "base/read_file.h"

exit_code common_options_folder(const char *name, const option_value *output,
                                const option_value *format, const option_value *no_render)
{
    if (output->given && !output->text[0]) {
        complain("%s: --output: the folder has no name", name);
        return EXIT_USAGE;
    }
    if ((!format->given && !no_render->given) || output->given) return EXIT_DONE;
    complain("%s: --%s needs --output DIR beside it", name, format->given ? "format" : "no-render");
    return EXIT_USAGE;
}

int common_options_unit(const char *name, const option_value *unit, int n_units)
{
    const int i = unit->text[0] - 'A';
    if (i < n_units) return i;
    if (n_units == 1)
        complain("%s: --unit: there is no unit %s; the case has 1, A", name, unit->text);
    else
        complain("%s: --unit: there is no unit %s; the case has %d, A to %c", name, unit->text,
                 n_units, 'A' + n_units - 1);
    return -1;
}

bool common_options_streams_clash(const char *name, const arguments *args, const option_value *also)
{
    int streams = also && also->given && read_file_is_standard(also->text);
    for (int i = 0; i < args->n_operands; i++)
        streams += read_file_is_standard(args->operand[i]);
    if (streams < 2) return false;
    complain("%s: '-' given %d times; only one file can come from standard input, give the others "
             "by name",
             name, streams);
    return true;
}
