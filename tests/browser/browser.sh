# Sourced by the checks in a browser: `dir` is a scratch folder, `faults` counts.

# A browser that ends with a fault of its own says nothing of the page: it is started once more.
browse() {
    for _ in first second; do
        HOME=$dir chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run \
            --disable-background-networking --disable-component-update --disable-sync \
            --disable-dev-shm-usage --hide-scrollbars --user-data-dir="$dir/profile" "$@" 2>"$dir/log" && return
    done
    fault "the browser failed: $(tail -n 1 "$dir/log")" >&2
}

fault() {
    echo "$name: $*"
    faults=$((faults + 1))
}

# In a frame of the width wanted: a browser's window does not get as narrow as a telephone. Style
# sheets of a printer and of the dark scheme are measured by making them everybody's.
measure() { # width, what: screen, dark or paper
    case $2 in
    dark) sed -e 's/@media screen and (prefers-color-scheme:dark)/@media all/' \
        -e 's/@media (prefers-color-scheme:dark)/@media all/' "$dir/copy.html" >"$dir/frame-copy.html" ;;
    paper) sed -e 's/@media print/@media all/' -e 's/@media screen and ([^)]*)/@media not all/' \
        "$dir/copy.html" >"$dir/frame-copy.html" ;;
    *) cp "$dir/copy.html" "$dir/frame-copy.html" ;;
    esac
    cat >"$dir/frame.html" <<END
<!DOCTYPE html><html><body><script>
addEventListener('message', function (e) { document.documentElement.setAttribute('data-seen', e.data); });
</script><iframe src="frame-copy.html?$2" style="width:$1px;height:2000px;border:0"></iframe></body></html>
END
    browse --window-size=1600,2200 --virtual-time-budget=5000 --dump-dom "file://$dir/frame.html" >"$dir/dom"
    seen=$(sed -n 's/.*data-seen="\([^"]*\)".*/\1/p' "$dir/dom" | head -n 1)
    case $seen in
    *"|$1 0 ") echo "$name, $2 $1: ${seen%%|*}" ;;
    *) fault "$2, width $1: width, faults: ${seen:-nothing was measured}" ;;
    esac
}
