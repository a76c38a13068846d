from lessonkit.cli.commands import main

if __name__ == "__main__":  # a process that shares the work imports this too
    main()
