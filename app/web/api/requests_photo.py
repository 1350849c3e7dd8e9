"""The form of `POST /api/orders/{order_id}/pieces/{number}/photo`."""

from typing import Annotated

from fastapi import Query, UploadFile
from pydantic import ConfigDict, Field

from app.web.api.requests_lengths import RequestModel

_SEEN = "as the answer says that was read last: where the order was changed since, nothing is done"

LONGEST_VERSION = 40

VersionAsked = Annotated[str, Query(max_length=LONGEST_VERSION, description=_SEEN)]


class PhotoSent(RequestModel):
    """A photo for a piece, sent as multipart/form-data."""

    model_config = ConfigDict(arbitrary_types_allowed=True)

    version: str = Field(max_length=LONGEST_VERSION, description=_SEEN)
    photo: UploadFile = Field(
        description="a JPEG, PNG or WebP file of up to 25 MB and 40 megapixels"
    )
