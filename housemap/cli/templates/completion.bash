# housemap completion bash > ~/.local/share/bash-completion/completions/housemap
_housemap() {
  local word=${COMP_WORDS[COMP_CWORD]} command=${COMP_WORDS[1]} options=
  if [ $COMP_CWORD -eq 1 ]; then
    COMPREPLY=($(compgen -W "@NAMES@ --help" -- "$word") $(compgen -f -- "$word"))
    return
  fi
  case $command in
@CASES@
  esac
  case $word in
    -*) COMPREPLY=($(compgen -W "$options" -- "$word")) ;;
    *) COMPREPLY=($(compgen -f -- "$word")) ;;
  esac
}
complete -o filenames -F _housemap housemap
