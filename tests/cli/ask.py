"""Runs a command in a pseudo-terminal and answers its questions: argv is a JSON list of the command, stdin of pairs."""
import fcntl, json, os, pty, select, signal, struct, sys, termios, time

command, answers = json.loads(sys.argv[1]), json.loads(sys.stdin.read())
pid, terminal = pty.fork()
if pid == 0:
    fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack('HHHH', 60, 140, 0, 0))
    os.execvp(command[0], command)
seen, said, at = '', '', 0
until = time.time() + float(os.environ.get("ASK_SECONDS", "60"))
while time.time() < until:
    ready, _, _ = select.select([terminal], [], [], 0.2)
    if ready:
        try:
            data = os.read(terminal, 65536)
        except OSError:
            break
        if not data:
            break
        text = data.decode('utf8', 'replace')
        seen += text
        said += text
    if at < len(answers) and answers[at][0] in said:
        said = ''
        time.sleep(0.03)
        os.write(terminal, answers[at][1].encode())
        at += 1
if time.time() >= until:
    os.kill(pid, signal.SIGKILL)
_, status = os.waitpid(pid, 0)
print(json.dumps({'code': os.waitstatus_to_exitcode(status), 'seen': seen, 'asked': at}))
