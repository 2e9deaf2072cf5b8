using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds;

/// <summary>What the provider asks to be shown beside its data.</summary>
/// <param name="Text">The credit.</param>
/// <param name="Url">Where the credit links to.</param>
/// <param name="Licence">The licence of the data.</param>
/// <param name="Note">Conditions worth reading before use.</param>
public sealed record FeedAttribution(string Text, string? Url, string? Licence, string? Note)
{
    internal static FeedAttribution From(DescriptionPlace? place)
    {
        if (place is null || !place.Object("text!", "url", "licence", "note"))
            return new FeedAttribution("", null, null, null);
        var url = place.Text("url");
        if (url is not null && !(Uri.TryCreate(url, UriKind.Absolute, out var uri) && uri.Scheme == Uri.UriSchemeHttps))
            place.Refuse("url", "The link is not an https address.", "Write the whole address, or leave it out.");
        return new FeedAttribution(place.Text("text") ?? "", url, place.Text("licence"), place.Text("note"));
    }
}
