using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Service.Webhooks;
using FruitWatch.Store;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Pages.Webhooks;

/// <summary>What somebody filled in about a webhook, and what is wrong with it.</summary>
internal sealed class WebhookForm
{
    private readonly List<(string Field, string Error)> errors = [];

    public string Name { get; init; } = "";

    public string Address { get; init; } = "";

    public IReadOnlyList<string> Events { get; init; } = WebhookEvents.All;

    /// <summary>Whether it is on; null for a new one.</summary>
    public bool? Active { get; init; }

    public IReadOnlyList<(string Field, string Error)> Errors => errors;

    public static WebhookForm Of(Webhook row) => new() { Name = row.Name, Address = row.Address, Events = WebhookEvents.Of(row), Active = row.Active };

    public static WebhookForm Of(IFormCollection form, IReadOnlySet<string> allowed, Words words)
    {
        var read = new WebhookForm
        {
            Name = form["name"].ToString().Trim(),
            Address = form["address"].ToString().Trim(),
            Events = [.. WebhookEvents.All.Where(form["events"].Contains)],
            Active = form["active"] == "true",
        };
        if (read.Name.Length is 0 or > WebhookShelf.LongestName || !FormText.IsLine(read.Name))
            read.Refuse("name", words.WebhooksGiveName);
        if (WebhookAddress.Check(read.Address, allowed) is { } wrong)
            read.Refuse("address", words.Explain(wrong));
        if (read.Events.Count == 0)
            read.Refuse("events", words.WebhooksGiveEvents);
        return read;
    }

    public string? ErrorOf(string field) => errors.FirstOrDefault(error => error.Field == field).Error;

    public void Refuse(string field, string error) => errors.Add((field, error));
}
