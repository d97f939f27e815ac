#include "explain/files.h"

#include "explain/picture.h"

exit_code explain_files(job *j, const out_request *to)
{
    picture s = {j, *to};
    if (!out_folder(to->dir)) return EXIT_SYSTEM;
    exit_code code = picture_curves(&s);
    if (code == EXIT_DONE) code = picture_psychro(&s);
    return code == EXIT_DONE ? picture_taps(&s) : code;
}
