/* The job page's style sheet, for screen, telephone and paper; it is part of the page itself. */
#ifndef CLI_PAGE_STYLE_H
#define CLI_PAGE_STYLE_H

extern const char page_style_screen[];
extern const char page_style_phone[];
extern const char page_style_paper[];

#endif
