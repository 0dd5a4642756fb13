"""The application on a given database: `python served_prices.py DATABASE_URL FOLDER PORT`."""

import sys

import many_prices
import uvicorn
from sqlalchemy import make_url

from filmbuild.app import create_app


def main(url: str, folder: str, port: str) -> None:
    app = create_app(many_prices.settings(make_url(url), folder))
    uvicorn.run(app, host="127.0.0.1", port=int(port), log_level="error", access_log=False)


if __name__ == "__main__":
    main(*sys.argv[1:])
