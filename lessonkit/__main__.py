from lessonkit.cli.commands import main

main()
