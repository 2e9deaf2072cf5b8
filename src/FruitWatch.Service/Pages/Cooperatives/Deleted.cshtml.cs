using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc.RazorPages;

namespace FruitWatch.Service.Pages.Cooperatives;

/// <summary>Where somebody is left who has just deleted their cooperative, and is a member of nothing any more.</summary>
[AllowAnonymous]
internal sealed class DeletedModel : PageModel;
