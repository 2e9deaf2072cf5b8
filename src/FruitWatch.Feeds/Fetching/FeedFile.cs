using FruitWatch.Feeds.Forms;
using NodaTime;

namespace FruitWatch.Feeds.Fetching;

/// <summary>A feed that somebody hands in as a file.</summary>
internal static class FeedFile
{
    public static async Task<FetchedFeed> ReadAsync(
        FeedDescription description, FeedRequest request, IClock clock, CancellationToken cancellation)
    {
        if (string.IsNullOrEmpty(request.UploadPath))
            throw new FeedException(
                FeedCodes.RequestIncomplete,
                "This feed is read from a file, and none was handed in.",
                "the request",
                "Hand in the file.");
        var asked = description.Request;
        var name = Path.GetFileName(request.UploadPath);
        try
        {
            await using var file = new FileStream(request.UploadPath, FileMode.Open, FileAccess.Read, FileShare.Read, 81_920, useAsync: true);
            if (file.Length > asked.MaxBytes)
                throw BoundedBody.TooLarge(asked.MaxBytes, name);
            var body = await BoundedBody.ReadAllAsync(file, asked.MaxBytes, name, cancellation);
            body = await BoundedBody.UnpackAsync(body, asked.MaxBytes, name, cancellation);
            return new FetchedFeed(Body.Checked(body), asked.MediaTypes[0], clock.GetCurrentInstant(), name);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new FeedException(
                FeedCodes.FileUnreadable,
                $"The file cannot be opened: {fault.GetType().Name}.",
                name,
                "Hand it in again.",
                fault);
        }
    }
}
