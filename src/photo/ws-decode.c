/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE  /* memfd_create, seals, clone */
#include "ws-decode.h"

#include "ws-blocking.h"
#include "ws-error.h"
#include "ws-intl.h"
#include "ws-picture-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib-unix.h>
#include <signal.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#define PROGRAM "wholestem-decoder"

typedef struct
{
  const char *name;
  int max_edge;
  guint seconds;
  GCancellable *cancellable;
  int input, answer;       /* memory files, -1 none */
  int life[2];             /* pipe: the child holds the writing end */
  GPid pid;
} Child;

gsize
ws_decode_answer_limit (int max_edge)
{
  gsize pixels = max_edge > 0 ? (gsize) max_edge * (gsize) max_edge : WS_PICTURE_MAX_PIXELS;

  return WS_DECODE_PIXELS_AT + 3 * MIN (pixels, (gsize) WS_PICTURE_MAX_PIXELS);
}

static gboolean
fail_system (Child *child, GError **error)
{
  g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("“%s” cannot be decoded: %s"), child->name, g_strerror (errno));
  return FALSE;
}

static gboolean
write_all (int fd, GBytes *bytes)
{
  gsize size;
  const char *data = g_bytes_get_data (bytes, &size);

  while (size > 0)
    {
      gssize n = write (fd, data, size);

      if (n < 0 && errno == EINTR)
        continue;
      if (n <= 0)
        return FALSE;
      data += n;
      size -= (gsize) n;
    }
  return TRUE;
}

/* The file's bytes can be read by the child and changed by nobody. */
static gboolean
open_files (Child *child, GBytes *bytes, GError **error)
{
  child->input = memfd_create ("wholestem-input", MFD_CLOEXEC | MFD_ALLOW_SEALING);
  child->answer = memfd_create ("wholestem-answer", MFD_CLOEXEC | MFD_ALLOW_SEALING);
  if (child->input < 0 || child->answer < 0 || !write_all (child->input, bytes) ||
      fcntl (child->input, F_ADD_SEALS, F_SEAL_WRITE | F_SEAL_SHRINK | F_SEAL_GROW | F_SEAL_SEAL) != 0 ||
      !g_unix_open_pipe (child->life, FD_CLOEXEC, NULL))
    return fail_system (child, error);
  return TRUE;
}

static void
close_files (Child *child)
{
  int *files[] = { &child->input, &child->answer, &child->life[0], &child->life[1] };

  for (gsize i = 0; i < G_N_ELEMENTS (files); i++)
    if (*files[i] >= 0)
      g_close (g_steal_fd (files[i]), NULL);
}

/* Where the environment says, beside a program that runs from its build folder, or where it was installed. */
static char *
find_program (void)
{
  const char *told = g_getenv ("WS_DECODER");
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *folder = self != NULL ? g_path_get_dirname (self) : g_strdup ("");
  g_autofree char *built = g_build_filename (folder, "..", "photo", PROGRAM, NULL);

  if (told != NULL && *told != '\0')
    return g_strdup (told);
  return g_file_test (built, G_FILE_TEST_IS_EXECUTABLE) ? g_steal_pointer (&built)
                                                        : g_build_filename (WS_LIBEXECDIR, PROGRAM, NULL);
}

/* Of the environment, only what decides about language, libraries and sanitizers. */
static GStrv
make_environment (void)
{
  static const char *const kept[] = { "LANG", "LANGUAGE", "LC_ALL", "LC_MESSAGES", "LC_CTYPE", "LOCPATH",
                                      "WS_LOCALEDIR_OVERRIDE", "LD_LIBRARY_PATH", "ASAN_OPTIONS", "UBSAN_OPTIONS" };
  GPtrArray *words = g_ptr_array_new ();

  for (gsize i = 0; i < G_N_ELEMENTS (kept); i++)
    if (g_getenv (kept[i]) != NULL)
      g_ptr_array_add (words, g_strconcat (kept[i], "=", g_getenv (kept[i]), NULL));
  g_ptr_array_add (words, NULL);
  return (GStrv) g_ptr_array_free (words, FALSE);
}

static gboolean
start (Child *child, GError **error)
{
  g_autofree char *program = find_program ();
  g_autofree char *edge = g_strdup_printf ("%d", child->max_edge);
  g_autofree char *seconds = g_strdup_printf ("%u", child->seconds);
  g_autofree char *name = g_utf8_make_valid (child->name, (gssize) MIN (strlen (child->name), 1000));
  g_auto (GStrv) environment = make_environment ();
  const char *words[] = { program, name, edge, seconds, NULL };
  int from[] = { child->input, child->answer, child->life[1] };
  static const int to[] = { WS_DECODE_INPUT_FD, WS_DECODE_ANSWER_FD, WS_DECODE_LIFE_FD };
  g_autoptr (GError) failed = NULL;

  if (!g_spawn_async_with_pipes_and_fds ("/", words, (const char *const *) environment,
                                         G_SPAWN_DO_NOT_REAP_CHILD | G_SPAWN_STDOUT_TO_DEV_NULL |
                                         G_SPAWN_STDERR_TO_DEV_NULL,
                                         NULL, NULL, -1, -1, -1, from, to, G_N_ELEMENTS (from), &child->pid,
                                         NULL, NULL, NULL, &failed))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED,
                   _("The program that decodes pictures from others does not start (%s); install Wholestem again"),
                   failed->message);
      return FALSE;
    }
  g_close (g_steal_fd (&child->life[1]), NULL);
  return TRUE;
}

/* Waits until the child has ended, the time is up or somebody cancels. Then it is killed, which a child that has ended
 * does not notice. */
static int
wait_for (Child *child, gboolean *late)
{
  gint64 deadline = g_get_monotonic_time () + child->seconds * G_USEC_PER_SEC;
  GPollFD files[] = { { child->life[0], G_IO_IN | G_IO_HUP, 0 }, { -1, G_IO_IN, 0 } };
  gboolean watched = g_cancellable_make_pollfd (child->cancellable, &files[1]);
  int status = 0, n = 0;

  while (n == 0 || (n < 0 && errno == EINTR))
    {
      gint64 left = deadline - g_get_monotonic_time ();

      if (left <= 0)
        break;
      n = g_poll (files, watched ? 2 : 1, (int) (left / 1000 + 1));
    }
  *late = n <= 0;
  kill (child->pid, SIGKILL);
  while (waitpid (child->pid, &status, 0) < 0 && errno == EINTR)
    continue;
  g_spawn_close_pid (child->pid);
  if (watched)
    g_cancellable_release_fd (child->cancellable);
  return status;
}

static gboolean
check_end (Child *child, int status, gboolean late, GError **error)
{
  if (g_cancellable_set_error_if_cancelled (child->cancellable, error))
    return FALSE;
  if (late || (WIFSIGNALED (status) && WTERMSIG (status) == SIGXCPU))
    {
      ws_picture_fail_late (child->name, child->seconds, error);
      return FALSE;
    }
  if (WIFEXITED (status) && WEXITSTATUS (status) == 0)
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
               _("The program that decodes pictures stopped at “%s” (%s %d), so nothing of it is shown; ask the sender "
                 "for another copy"),
               child->name, WIFSIGNALED (status) ? _("signal") : _("status"),
               WIFSIGNALED (status) ? WTERMSIG (status) : WEXITSTATUS (status));
  return FALSE;
}

static gboolean
fail_answer (Child *child, GError **error)
{
  g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
               _("The program that decodes pictures gave no usable answer for “%s”, so nothing of it is shown; ask the "
                 "sender for another copy"), child->name);
  return FALSE;
}

/* The message of an error is text from a process that may have been taken over: one line, valid, not long. */
static gboolean
pass_error (Child *child, const WsDecodeAnswer *answer, GError **error)
{
  gsize length = strnlen (answer->message, sizeof answer->message);
  g_autofree char *text = g_utf8_make_valid (answer->message, (gssize) length);

  if (answer->code < WS_ERROR_FAILED || answer->code > WS_ERROR_USAGE || *text == '\0')
    return fail_answer (child, error);
  for (char *c = text; *c != '\0'; c++)
    if (g_ascii_iscntrl (*c))
      *c = ' ';
  g_set_error_literal (error, WS_ERROR, answer->code, text);
  return FALSE;
}

static gboolean
is_sane (const Child *child, const WsDecodeAnswer *answer, gsize size)
{
  gint64 pixels = (gint64) answer->width * answer->height;

  return answer->width > 0 && answer->height > 0 && answer->full_width >= answer->width &&
         answer->full_height >= answer->height && pixels <= WS_PICTURE_MAX_PIXELS &&
         (gint64) answer->full_width * answer->full_height <= WS_PICTURE_MAX_PIXELS &&
         (child->max_edge == 0 || MAX (answer->width, answer->height) <= child->max_edge) &&
         size == WS_DECODE_PIXELS_AT + 3 * (gsize) pixels;
}

typedef struct
{
  void *at;
  gsize size;
} Map;

static void
unmap (gpointer data)
{
  Map *map = data;

  munmap (map->at, map->size);
  g_free (map);
}

/* The answer is sealed before it is looked at: from then on nobody can change or shorten it. */
static WsPicture *
take_answer (Child *child, GError **error)
{
  struct stat info;
  WsDecodeAnswer answer;
  WsPicture *picture;
  Map *map;
  void *at;

  if (fcntl (child->answer, F_ADD_SEALS, F_SEAL_WRITE | F_SEAL_SHRINK | F_SEAL_GROW | F_SEAL_SEAL) != 0 ||
      fstat (child->answer, &info) != 0 || info.st_size < (off_t) sizeof answer ||
      pread (child->answer, &answer, sizeof answer, 0) != (gssize) sizeof answer ||
      memcmp (answer.magic, WS_DECODE_MAGIC, sizeof WS_DECODE_MAGIC) != 0)
    return fail_answer (child, error), NULL;
  if (answer.state == WS_DECODE_ERROR)
    return pass_error (child, &answer, error), NULL;
  if (answer.state != WS_DECODE_PICTURE || !is_sane (child, &answer, (gsize) info.st_size))
    return fail_answer (child, error), NULL;
  at = mmap (NULL, (gsize) info.st_size, PROT_READ, MAP_SHARED, child->answer, 0);
  if (at == MAP_FAILED)
    return fail_system (child, error), NULL;
  map = g_new (Map, 1);
  *map = (Map) { at, (gsize) info.st_size };
  picture = g_new0 (WsPicture, 1);
  *picture = (WsPicture) { answer.width, answer.height,
                           g_bytes_new_with_free_func ((const char *) at + WS_DECODE_PIXELS_AT,
                                                       map->size - WS_DECODE_PIXELS_AT, unmap, map),
                           answer.full_width, answer.full_height, answer.raw_preview != 0 };
  return picture;
}

WsPicture *
ws_decode_in_child (GBytes *bytes, const char *name, int max_edge, guint seconds, GCancellable *cancellable,
                    GError **error)
{
  Child child = { .name = name, .max_edge = max_edge, .seconds = seconds, .cancellable = cancellable, .input = -1,
                  .answer = -1, .life = { -1, -1 } };
  WsPicture *picture = NULL;
  gboolean late;

  ws_blocking ("decoding a picture");
  if (!g_cancellable_set_error_if_cancelled (cancellable, error) && open_files (&child, bytes, error) &&
      start (&child, error))
    {
      int status = wait_for (&child, &late);

      if (check_end (&child, status, late, error))
        picture = take_answer (&child, error);
    }
  close_files (&child);
  return picture;
}

WsPicture *
ws_picture_decode_stranger (GBytes *bytes, const char *name, int max_edge, GCancellable *cancellable, GError **error)
{
  return ws_decode_in_child (bytes, name, max_edge, WS_PICTURE_MAX_SECONDS, cancellable, error);
}
