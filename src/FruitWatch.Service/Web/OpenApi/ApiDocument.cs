using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;

namespace FruitWatch.Service.Web.OpenApi;

/// <summary>The description of the API: its head, and what stands once for all operations.</summary>
internal static class ApiDocument
{
    private const string About =
        """
        Outdoor mushroom beds: what to do with each today, and when to expect pins. Numbers in SI with the unit in the name, days as local days of
        the bed's site, moments in UTC. Within version 1 names are only added. A forecast never says that a mushroom is safe: whoever shows pins
        or harvest dates has to show the lookalikes of the species with them.

        **Who asks.** Every request carries a token: `Authorization: Bearer fw_…`. A token acts for the person who made it, within its scopes and
        that person's role, and sees their cooperative only; what is another cooperative's is not found (404).

        **Refusals** are problem details (RFC 9457). Beside those of each operation: 404 where no operation has the address, 405 with `Allow`, 414
        where the address has more than 8000 characters, 431 where the header fields are too large, 500 where the service failed, with the number
        under which its log tells of it. Query values and fields that an operation does not know are refused, and so are repeated ones.

        **Versions.** Answers to GET carry an `ETag`; `If-None-Match` spares what you have. Sites, beds, feeds and people are changed and removed
        under `If-Match` only.

        **Once.** A POST with an `Idempotency-Key` is done once, however often it is sent within 24 hours.

        **How often.** `RateLimit` tells with every answer how many requests are left in the window.
        """;

    private static readonly (string Name, string Description)[] s_tags =
    [
        ("Sites", "Places with one weather, and when to start a bed there."),
        ("Weather", "How the weather feeds of a site stand, past years, and what is usual there."),
        ("Beds", "Beds as they were made, how each stands day by day, and what is ahead."),
        ("Log", "What was done and seen at a bed. Every entry corrects the account."),
        ("Notices", "What growers were told to do or to expect."),
        ("Verification", "How good the forecasts of pins have been."),
        ("Feeds", "Weather feeds: descriptions that come with the program, trials, and the feeds in use."),
        ("Catalogue", "Species and materials."),
        ("Mails", "Mails that went out or wait to."),
        ("Tokens", "What programs show to be let in."),
        ("People", "Members of the cooperative, invitations, personal links, own settings and calendars."),
        ("Webhooks", "Programs that are told of what happens, and what was delivered to them."),
        ("Cooperative", "The cooperative as a whole: its settings, export, audit and end."),
    ];

    public static void Describe(OpenApiOptions options)
    {
        options.OpenApiVersion = OpenApiSpecVersion.OpenApi3_1;
        options.ShouldInclude = operation => operation.RelativePath?.StartsWith("api/", StringComparison.Ordinal) == true;
        options.AddSchemaTransformer(SchemaDescription.TransformAsync);
        options.AddOperationTransformer(OperationDescription.TransformAsync);
        options.AddDocumentTransformer((document, _, _) =>
        {
            document.Info = new OpenApiInfo
            {
                Title = "FruitWatch",
                Version = "1",
                Summary = "Outdoor mushroom beds and the weather.",
                Description = About.ReplaceLineEndings("\n"),
                Contact = new OpenApiContact { Name = "The FruitWatch contributors" },
                License = new OpenApiLicense { Name = "MIT", Identifier = "MIT" },
            };
            document.Servers = [new OpenApiServer { Url = "/", Description = "The service that gives this document." }];
            var used = document.Tags?.Select(tag => tag.Name).ToHashSet() ?? [];
            document.Tags = new HashSet<OpenApiTag>(s_tags.Where(tag => used.Contains(tag.Name)).Select(tag => new OpenApiTag { Name = tag.Name, Description = tag.Description }));
            CommonParts.AddTo(document);
            return Task.CompletedTask;
        });
    }
}
