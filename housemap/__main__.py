from housemap.cli import run

run()
