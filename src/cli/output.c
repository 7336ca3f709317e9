/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writing the output, all or nothing: it is complete in memory before the first byte is written; a file is
 * written beside its place and renamed. */
#define _XOPEN_SOURCE 700 /* realpath */
#include "cli.h"

#include <errno.h>
#include <fcntl.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

void *hr_cli_grow(void *list, size_t count, size_t *room, size_t size)
{
    if (count < *room) {
        return list;
    }
    const size_t larger = *room == 0 ? 16 : 2 * *room;
    void *moved = larger < SIZE_MAX / size ? realloc(list, larger * size) : NULL;
    *room = moved != NULL ? larger : *room;
    return moved;
}

enum hr_status hr_cli_add(struct hr_cli *cli, char *text)
{
    char **larger =
        text == NULL ? NULL : hr_cli_grow(cli->piece, cli->pieces, &cli->pieces_room, sizeof *larger);
    if (larger == NULL) {
        free(text);
        return hr_cli_fail_memory(cli);
    }
    cli->piece = larger;
    cli->piece[cli->pieces++] = text;
    return HR_OK;
}

enum hr_status hr_cli_add_copy(struct hr_cli *cli, const char *text)
{
    return hr_cli_add(cli, strdup(text));
}

/* Writes all pieces; false with errno. */
static bool write_pieces(const struct hr_cli *cli, int descriptor)
{
    for (size_t i = 0; i < cli->pieces; i++) {
        const char *rest = cli->piece[i];
        size_t length = strlen(rest);
        while (length > 0) {
            const ssize_t written = write(descriptor, rest, length);
            if (written < 0 && errno == EINTR) {
                continue;
            }
            if (written < 0) {
                return false;
            }
            rest += written;
            length -= (size_t)written;
        }
    }
    return true;
}

static enum hr_status fail_write(struct hr_cli *cli, const char *target)
{
    const int fault = errno;
    return hr_cli_fail(cli, HR_SYSTEM, "cannot-write", "cannot write to %s%s%s: %s",
                       target != NULL ? "'" : "", target != NULL ? target : "standard output",
                       target != NULL ? "'" : "",
                       fault == EPIPE ? "whoever reads it has stopped" : strerror(fault));
}

/* Devices and pipes cannot be replaced; they are written to. */
static enum hr_status write_through(struct hr_cli *cli, const char *path)
{
    const int descriptor = open(path, O_WRONLY | O_CLOEXEC);
    if (descriptor < 0) {
        return fail_write(cli, path);
    }
    const bool written = write_pieces(cli, descriptor);
    const int fault = errno;
    const bool closed = close(descriptor) == 0;
    if (!written) {
        errno = fault;
    }
    return written && closed ? HR_OK : fail_write(cli, path);
}

/* The rights that a new file gets, or those of the one it replaces. */
static mode_t rights_of(const struct stat *old)
{
    if (old != NULL) {
        return old->st_mode & 0777U;
    }
    const mode_t mask = umask(0);
    (void)umask(mask);
    return 0666U & ~mask;
}

static enum hr_status replace(struct hr_cli *cli, const char *path, const struct stat *old)
{
    char *temporary = malloc(strlen(path) + sizeof ".XXXXXX");
    if (temporary == NULL) {
        return hr_cli_fail_memory(cli);
    }
    (void)sprintf(temporary, "%s.XXXXXX", path);
    const int descriptor = mkstemp(temporary);
    if (descriptor < 0) {
        free(temporary);
        return fail_write(cli, path);
    }
    bool good = fchmod(descriptor, rights_of(old)) == 0 && write_pieces(cli, descriptor);
    int fault = errno;
    if (close(descriptor) != 0 && good) {
        good = false;
        fault = errno;
    }
    if (good && rename(temporary, path) != 0) {
        good = false;
        fault = errno;
    }
    if (!good) {
        (void)unlink(temporary);
        errno = fault;
    }
    free(temporary);
    return good ? HR_OK : fail_write(cli, path);
}

static enum hr_status write_file(struct hr_cli *cli)
{
    struct stat facts;
    const bool exists = stat(cli->output, &facts) == 0;
    if (exists && S_ISDIR(facts.st_mode)) {
        errno = EISDIR;
        return fail_write(cli, cli->output);
    }
    if (exists && !S_ISREG(facts.st_mode)) {
        return write_through(cli, cli->output);
    }
    if (exists && access(cli->output, W_OK) != 0) {
        return fail_write(cli, cli->output); /* a rename would get past the file's own rights */
    }
    /* Behind a symbolic link the file it points to is replaced, not the link. */
    char *real = exists ? realpath(cli->output, NULL) : NULL;
    const enum hr_status status = replace(cli, real != NULL ? real : cli->output, exists ? &facts : NULL);
    free(real);
    return status;
}

enum hr_status hr_cli_write(struct hr_cli *cli)
{
    if (cli->output != NULL) {
        return write_file(cli);
    }
    return write_pieces(cli, STDOUT_FILENO) ? HR_OK : fail_write(cli, NULL);
}
