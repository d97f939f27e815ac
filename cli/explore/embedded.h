/* The text, the style and the script of the explore page, compiled in; the build makes
 * embedded_explore.c (script/embed.cmake). The page's policy admits the style and the script by
 * their SHA-256. */
#ifndef CLI_EXPLORE_EMBEDDED_H
#define CLI_EXPLORE_EMBEDDED_H

#include <stddef.h>

enum { SHA256_SIZE = 32 };

typedef struct {
    const unsigned char *text;
    size_t size;
    unsigned char sha256[SHA256_SIZE];
} embedded_text;

extern const embedded_text explore_body, explore_style, explore_script;

#endif
