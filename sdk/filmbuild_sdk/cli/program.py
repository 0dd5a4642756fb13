"""The commands together, and what a run of them ends in."""

import os
import sys
from pathlib import Path

import click
from click.core import ParameterSource
from click.shell_completion import get_completion_class

from filmbuild_sdk import FilmbuildError, __version__
from filmbuild_sdk.cli import failures
from filmbuild_sdk.cli.catalogue import catalogue
from filmbuild_sdk.cli.estimate import estimate
from filmbuild_sdk.cli.keys import keys
from filmbuild_sdk.cli.prices import prices
from filmbuild_sdk.cli.state import DEFAULT_URL, State

NAME = "filmbuild-client"
COMPLETE = "_FILMBUILD_CLIENT_COMPLETE"
EPILOG = """\b
Ends with
  0  done
  1  refused by the service
  2  used wrongly, or a file cannot be read
  3  the service was not reached, or is busy
  4  no key, an unknown one, or one that does not allow this
  5  the service failed
  6  not confirmed: nothing was done
"""


def _key(context: click.Context, option: click.Parameter, value: str | None) -> str | None:
    if context.get_parameter_source(option.name or "") is ParameterSource.COMMANDLINE:
        raise click.UsageError(
            "A key on the command line is seen by everyone on this machine: replace that one, and "
            "put the new one into FILMBUILD_KEY or a file for --key-file.",
            context,
        )
    return value


@click.group(
    epilog=EPILOG, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 88}
)
@click.version_option(__version__, prog_name=NAME)
@click.option(
    "--url",
    envvar="FILMBUILD_URL",
    default=DEFAULT_URL,
    show_default=True,
    show_envvar=True,
    help="Where the service is.",
)
@click.option("--key", envvar="FILMBUILD_KEY", callback=_key, hidden=True)
@click.option(
    "--key-file",
    envvar="FILMBUILD_KEY_FILE",
    show_envvar=True,
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="A file with the key alone. Without it the key is that of FILMBUILD_KEY.",
)
@click.option("--plain-http", is_flag=True, help="Send the key over http to another machine.")
@click.option(
    "--timeout", type=click.FloatRange(min=0.1), help="Seconds to wait for an answer; else 300."
)
@click.pass_obj
def cli(
    state: State,
    url: str,
    key: str | None,
    key_file: Path | None,
    *,
    plain_http: bool,
    timeout: float | None,
) -> None:
    """Estimates, prices, catalogue and keys of a filmbuild service, from a shell."""
    state.url = url
    state.key = key_file.read_text().strip() if key_file else key
    state.plain_http = plain_http
    state.timeout = timeout


for _command in (estimate, prices, catalogue, keys):
    cli.add_command(_command)


@cli.command()
@click.argument("shell", type=click.Choice(["bash", "zsh", "fish"]))
def completion(shell: str) -> None:
    """Print what makes SHELL complete these commands.

    \b
    bash: filmbuild-client completion bash > ~/.filmbuild-client.bash
          echo '. ~/.filmbuild-client.bash' >> ~/.bashrc
    zsh:  the same with zsh and ~/.zshrc
    fish: filmbuild-client completion fish \\
            > ~/.config/fish/completions/filmbuild-client.fish
    """  # noqa: D301 - click's mark, in which a backslash is a character of its own
    kind = get_completion_class(shell)
    if kind is None:
        raise click.UsageError(f"click cannot complete for {shell}")
    click.echo(kind(cli, {}, NAME, COMPLETE).source())


def run(arguments: list[str] | None = None) -> int:
    """Exit code of the command; says on standard error what went wrong, and what to do."""
    state = State()
    try:
        done = cli.main(
            arguments, prog_name=NAME, complete_var=COMPLETE, standalone_mode=False, obj=state
        )
    except click.ClickException as error:
        error.show()
        return error.exit_code
    except FilmbuildError as error:
        return failures.tell(error, state)
    except click.Abort:
        return failures.interrupted()
    except BrokenPipeError:
        # who read the output has gone: nothing more can be said, not even when the program ends
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    return done if isinstance(done, int) else 0
