from housemap.cli import main

raise SystemExit(main())
