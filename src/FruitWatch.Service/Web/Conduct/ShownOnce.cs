namespace FruitWatch.Service.Web.Conduct;

/// <summary>Fields of an answer that are a secret: they are told to whoever made it, and never kept, not even to be told again.</summary>
internal sealed record ShownOnceMetadata(IReadOnlyList<string> Fields);

/// <summary>Marks operations whose answer holds a secret.</summary>
internal static class ShownOnce
{
    /// <summary>
    /// Names the fields, at the top of the answer's JSON, that hold a secret. Where the same request is sent again under its
    /// Idempotency-Key, they are null: the secret is not kept for that.
    /// </summary>
    public static RouteHandlerBuilder ShowingOnce(this RouteHandlerBuilder operation, params string[] fields) =>
        operation.WithMetadata(new ShownOnceMetadata(fields));
}
