#compdef housemap
# housemap completion zsh > a folder of $fpath, as _housemap
_housemap() {
  if (( CURRENT == 2 )); then
    local -a commands=(
@COMMANDS@
    )
    _describe command commands
    _files
    return
  fi
  case $words[2] in
@CASES@
  esac
  _files
}
_housemap "$@"
