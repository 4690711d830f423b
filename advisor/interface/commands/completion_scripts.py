"""Scripts by which a shell completes `advisor`: all words stand in them, so that a key press starts no program."""

from __future__ import annotations

import argparse
import shlex
from collections.abc import Callable, Iterable, Mapping, Sequence

from advisor import load_knowledge
from advisor.interface.commands.completion_words import BEFORE, Command, Option, Place, commands_of


def completion_script(shell: str, parser: argparse.ArgumentParser) -> str:
    """Write the script for bash, zsh or fish.

    Raises:
        KeyError: another shell.
    """
    return SHELLS[shell](commands_of(parser, load_knowledge()))


def _words(words: Iterable[str]) -> str:
    return shlex.quote(" ".join(words))


def _bash_case(value: Place) -> str:
    return f"words={_words(value.words)}; files={'1' if value.files else ''}"


def _bash_values(command: Command) -> Iterable[str]:
    for option in command.options:
        if option.value is not None:
            yield f"      {command.name},{option.name}) {_bash_case(option.value)}; return ;;"


def _bash_core(commands: Sequence[Command]) -> str:
    values = "\n".join(line for command in commands for line in _bash_values(command))
    many = " ".join(
        f"{c.name},{o.name}" for c in commands for o in c.options if o.value is not None and o.many
    )
    beside = "\n".join(f"      {c.name}) {_bash_case(c.place)} ;;" for c in commands)
    options = "\n".join(f"      {c.name}) words={_words(o.name for o in c.options)} ;;" for c in commands)
    return f"""\
# Sets words and files to what may stand at a place: COMMAND, the option before it, and what is typed of it.
_advisor_words() {{
  words= files=
  if [[ $3 == -* ]]; then
    case $1 in
{options}
    esac
    return
  fi
  case $1,$2 in
{values}
  esac
  case $1 in
{beside}
  esac
}}

# Options after which several values may stand.
_advisor_many={_words([many])}

# Finds the command, and the option whose value stands at the end, among the words before the one that is typed.
_advisor_where() {{
  local word
  command= option=
  for word in "$@"; do
    if [[ $word == -* ]]; then
      option=$word
    elif [[ -n $option && " $_advisor_many " == *" $command,$option "* ]]; then
      :
    elif [[ -z $command && ( -z $option || $option == --* ) ]]; then
      command=$word
      option=
    else
      option=
    fi
  done
  [[ $command == help || -z $command ]] && command=_
  return 0
}}
"""


def _bash(commands: Sequence[Command]) -> str:
    return f"""\
# Completion of advisor for bash: put this into ~/.local/share/bash-completion/completions/advisor
{_bash_core(commands)}
_advisor() {{
  local words files command option typed=${{COMP_WORDS[COMP_CWORD]}}
  _advisor_where "${{COMP_WORDS[@]:1:COMP_CWORD-1}}"
  _advisor_words "$command" "$option" "$typed"
  COMPREPLY=($(compgen -W "$words" -- "$typed"))
  if [[ -n $files ]]; then
    local file
    compopt -o filenames 2>/dev/null
    while IFS= read -r file; do COMPREPLY+=("$file"); done < <(compgen -f -- "$typed")
  fi
}}
complete -F _advisor advisor
"""


def _zsh(commands: Sequence[Command]) -> str:
    return f"""\
#compdef advisor
# Completion of advisor for zsh: put this into a folder of $fpath, as _advisor
{_bash_core(commands)}
_advisor() {{
  local files command option typed=$PREFIX
  local words_before=("${{(@)words[2,CURRENT-1]}}")
  local -a found
  () {{
    local words
    _advisor_where "${{words_before[@]}}"
    _advisor_words "$command" "$option" "$typed"
    found=(${{=words}})
  }}
  (( $#found )) && compadd -a found
  [[ -n $files ]] && _files
  return 0
}}
if [[ $funcstack[1] == _advisor ]]; then _advisor "$@"; else compdef _advisor advisor; fi
"""


def _fish_option(command: Command, option: Option) -> str:
    said = ["complete -c advisor"]
    if command.name != BEFORE:
        said.append(f"-n '__fish_seen_subcommand_from {command.name}'")
    else:
        said.append("-n __fish_use_subcommand")
    said.append(f"-l {option.name[2:]}" if option.name.startswith("--") else f"-s {option.name[1:]}")
    if option.value is not None:
        said.append("-r" if option.value.files else "-x")
        if option.value.words:
            said.append(f"-a {_words(option.value.words)}")
    if option.says:
        said.append(f"-d {shlex.quote(option.says.replace('%%', '%'))}")
    return " ".join(said)


def _fish(commands: Sequence[Command]) -> str:
    lines = ["# Completion of advisor for fish: put this into ~/.config/fish/completions/advisor.fish"]
    lines.append("complete -c advisor -f")
    for command in commands:
        if command.name != BEFORE:
            said = shlex.quote(command.says)
            lines.append(f"complete -c advisor -n __fish_use_subcommand -a {command.name} -d {said}")
            seen = f"-n '__fish_seen_subcommand_from {command.name}'"
            if command.place.words:
                lines.append(f"complete -c advisor {seen} -a {_words(command.place.words)}")
            if command.place.files:
                lines.append(f"complete -c advisor {seen} -F")
        lines += [_fish_option(command, option) for option in command.options]
    return "\n".join(lines) + "\n"


SHELLS: Mapping[str, Callable[[Sequence[Command]], str]] = {"bash": _bash, "zsh": _zsh, "fish": _fish}
