from filmbuild_sdk.cli import main

if __name__ == "__main__":
    main()
