# What zsh offers: zsh -f complete.zsh FOLDER "detent ch" prints a match a line. FOLDER holds the function _detent.
# An interactive zsh is run on a pseudo-terminal, its `compadd` tells what it is given, and Tab is pressed.
zmodload zsh/zpty
folder=$1 line=$2
zpty shell zsh -f -i
await() { local row; while zpty -r shell row; do row=${row%%$'\r\n'}; [[ $row == *$1* ]] && return; done }
zpty -w shell "PS1= PS2= RPS1= ; unsetopt zle_bracketed_paste 2>/dev/null; fpath=(${(q)folder} \$fpath)"
zpty -w shell 'autoload -Uz compinit && compinit -u -D; bindkey "^I" complete-word; zstyle ":completion:*" insert-tab false'
zpty -w shell 'compadd() {
  if [[ " ${@[1,(i)(-|--)]} " == *" -"[ODA]" "* ]]; then builtin compadd "$@"; return; fi
  local -a hits
  builtin compadd -O hits "$@"
  (( $#hits )) && print -rl -- "HIT "$^hits
  builtin compadd "$@"
}
finish() { print END; exit }
comppostfuncs=(finish)'
zpty -w shell 'print REA''DY'
await READY
zpty -w -n shell "$line"$'\t'
while zpty -r shell row; do
  row=${row//$'\r'/}; row=${row%%$'\n'}
  [[ $row == *END* ]] && break
  [[ $row == *"HIT "* ]] && print -r -- ${row##*HIT }
done
zpty -d shell
