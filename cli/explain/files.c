#include "explain/files.h"

#include "explain/picture.h"

exit_code explain_files(job *j, const out_request *to)
{
    picture s = {.j = j, .to = *to};
    if (!out_folder(to->dir)) return EXIT_SYSTEM;
    exit_code code = picture_curves(&s);
    if (code == EXIT_DONE) code = picture_psychro(&s);
    if (code == EXIT_DONE) code = picture_taps(&s);
    return code == EXIT_DONE ? out_draw_all(to->dir, &s.scripts, to->format, to->render) : code;
}
