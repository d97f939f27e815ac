/* Without a fuzzer: gives the target each file named, whole and cut off at every line. */
#include "fuzz.h"

/* A copy of just its size, so that the address sanitizer sees a step beyond the end. */
static void give(const uint8_t *data, size_t size)
{
    uint8_t *copy = malloc(size ? size : 1);
    HOLDS(copy);
    if (size) memcpy(copy, data, size);
    LLVMFuzzerTestOneInput(copy, size);
    free(copy);
}

static void replay(const char *path)
{
    static uint8_t data[1 << 17];
    FILE *file = fopen(path, "rb");
    HOLDS(file);
    const size_t size = fread(data, 1, sizeof data, file);
    HOLDS(feof(file));
    fclose(file);
    give(data, size);
    for (size_t i = 0; i < size; i++)
        if (data[i] == '\n') give(data, i);
}

int main(int argc, char **argv)
{
    for (int i = 1; i < argc; i++) {
        fprintf(stderr, "%s\n", argv[i]);
        replay(argv[i]);
    }
    return argc > 1 ? 0 : 2;
}
